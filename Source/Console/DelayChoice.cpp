// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/DelayChoice.h"

#include <algorithm>

namespace headland::console {

namespace {

/// How a side comes out, the better the greater.
enum class Grade { cannotBeCut, landMissing, landKept };

Grade gradeOf(const DelayTrial& trial) {
    return trial.keepsLand() ? Grade::landKept : trial.canBeCut() ? Grade::landMissing : Grade::cannotBeCut;
}

/// Of the trials with the best grade those with the least land missing.
std::vector<std::size_t> bestTrials(const std::vector<DelayTrial>& trials, double landSet_um) {
    auto grade = Grade::cannotBeCut;
    for (const auto& trial : trials)
        grade = std::max(grade, gradeOf(trial));
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < trials.size(); ++i)
        if (gradeOf(trials[i]) == grade)
            kept.push_back(i);
    const auto missing_um = [&](std::size_t i) { return trials[i].missingLand_um(landSet_um); };
    const auto least = *std::min_element(kept.begin(), kept.end(),
                                         [&](auto a, auto b) { return missing_um(a) < missing_um(b); });
    const auto limit_um = missing_um(least) + sameLand_um;
    std::erase_if(kept, [&](std::size_t i) { return missing_um(i) > limit_um; });
    return kept;
}

/// The one with the least disc and delay added up; of equals the shortest.
std::size_t cheapest(const std::vector<DelayTrial>& trials, const std::vector<std::size_t>& candidates) {
    const auto used_mm = [&](std::size_t i) {
        return trials[i].summary.used_mm + trials[i].summary.notCut_mm;
    };
    const auto least_mm = used_mm(*std::min_element(candidates.begin(), candidates.end(),
                                                    [&](auto a, auto b) { return used_mm(a) < used_mm(b); }));
    const auto price_mm = [&](std::size_t i) {
        return used_mm(i) + worthOfATurn * least_mm * trials[i].turns;
    };
    return *std::min_element(candidates.begin(), candidates.end(),
                             [&](auto a, auto b) { return price_mm(a) < price_mm(b); });
}

DelayOutcome outcomeOf(const std::vector<DelayTrial>& trials, std::size_t best, double landSet_um) {
    const auto& chosen = trials[best];
    if (chosen.keepsLand())
        return DelayOutcome::landKept;
    const auto missing_um = chosen.missingLand_um(landSet_um);
    if (missing_um > 0) {
        const auto isLongest = best + 1 == trials.size() && best > 0;
        const auto stillShrinks =
            isLongest && trials[best - 1].missingLand_um(landSet_um) - missing_um > sameLand_um;
        return stillShrinks && chosen.isShort() ? DelayOutcome::stillShort : DelayOutcome::latheLimits;
    }
    if (!chosen.summary.fits)
        return DelayOutcome::discLimits;
    return chosen.sectorsUnder(cut::Flag::tooDeep) > 0 ? DelayOutcome::tooDeep : DelayOutcome::stylusLifts;
}

} // namespace

double missingLand_um(const cut::CutSummary& summary, double landSet_um) noexcept {
    auto missing_um = 0.0;
    if (sectorsUnder(summary, cut::Flag::previewShort) > 0)
        missing_um = summary.shortfallGreatest.value;
    if (sectorsUnder(summary, cut::Flag::thinLand) > 0 || sectorsUnder(summary, cut::Flag::overcut) > 0)
        missing_um = std::max(missing_um, landSet_um - summary.landLeast.value);
    return missing_um;
}

bool keepsLand(const cut::CutSummary& summary) noexcept {
    return canBeCut(summary) && sectorsUnder(summary, cut::Flag::previewShort) == 0
           && sectorsUnder(summary, cut::Flag::thinLand) == 0;
}

DelayChoice chooseDelay(const std::vector<DelayTrial>& trials, double landSet_um) {
    DelayChoice choice;
    choice.candidates = bestTrials(trials, landSet_um);
    choice.best = cheapest(trials, choice.candidates);
    choice.outcome = outcomeOf(trials, choice.best, landSet_um);
    if (choice.best + 1 < trials.size())
        choice.nextLonger = choice.best + 1;
    return choice;
}

} // namespace headland::console
