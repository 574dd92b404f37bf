// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/FitSearch.h"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace headland::console {

namespace {

/// The values between which the answer lies; an end outside the range has not been cut.
struct Bracket {
    int below;
    int above;
};

bool isThin(const FitTrial& trial) {
    return trial.summary.flaggedSectors[cut::indexOf(cut::Flag::thinLand)] > 0;
}

/// Whether more of the quantity would mend this fault: a deeper groove is wider, and land set next to nothing overcuts
/// by the little that a plan by sectors cannot promise.
bool isMendedByMore(const Fault& fault, const FitTrial& trial, Vary vary) {
    switch (vary) {
    case Vary::level:
        return false;
    case Vary::land:
        return fault.limit == Limit::land && !isThin(trial);
    case Vary::depth:
        return fault.limit == Limit::width || fault.limit == Limit::lift;
    }
    return false;
}

bool isTooLittle(const FitTrial& trial, Vary vary) {
    return !trial.isClean() && std::all_of(trial.faults.begin(), trial.faults.end(), [&](const Fault& fault) {
        return isMendedByMore(fault, trial, vary);
    });
}

/// Trials are in order. The highest clean one decides; while there is none, what is too little and too much.
Bracket bracketOf(const std::vector<FitTrial>& trials, Vary vary, const TenthRange& range) {
    Bracket bracket{range.least - 1, range.greatest + 1};
    const auto best =
        std::find_if(trials.rbegin(), trials.rend(), [](const FitTrial& trial) { return trial.isClean(); });
    if (best != trials.rend()) {
        bracket.below = best->tenths;
        if (best.base() != trials.end())
            bracket.above = best.base()->tenths;
        return bracket;
    }
    for (const auto& trial : trials) {
        if (!isTooLittle(trial, vary)) {
            bracket.above = trial.tenths;
            break;
        }
        bracket.below = trial.tenths;
    }
    return bracket;
}

/// Two values that cut the bracket into three, or what is left of that in a narrow one.
std::vector<int> thirds(Bracket bracket) {
    const auto third = (bracket.above - bracket.below + 1) / 3;
    return {bracket.below + third, bracket.above - third};
}

/// The next values to cut: outward from the present one, three times as far each time, until there is a value on either
/// side of the answer.
std::vector<int> nextValues(Bracket bracket, const TenthRange& range, int present, int firstStep) {
    const auto openBelow = bracket.below<range.least, openAbove = bracket.above> range.greatest;
    std::vector<int> values;
    if (openBelow && openAbove)
        values = {present, present + firstStep};
    else if (openAbove && bracket.below >= present)
        values = {present + std::max(firstStep, 3 * (bracket.below - present)),
                  present + std::max(firstStep, 9 * (bracket.below - present))};
    else if (openBelow && bracket.above <= present)
        values = {present - std::max(firstStep, 3 * (present - bracket.above)),
                  present - 3 * std::max(firstStep, 3 * (present - bracket.above))};
    else
        values = thirds(bracket);
    for (auto& value : values)
        value = std::clamp(value, bracket.below + 1, bracket.above - 1);
    std::sort(values.begin(), values.end());
    values.erase(std::unique(values.begin(), values.end()), values.end());
    return values;
}

void cutValues(FitResult& result, const cut::CutSettings& settings, const std::vector<int>& values,
               const CutAll& cutAll) {
    std::vector<cut::CutSettings> trials;
    for (const auto tenths : values)
        trials.push_back(withTenths(settings, *result.quantity, tenths));
    auto summaries = cutAll(trials);
    if (summaries.size() != trials.size())
        throw std::logic_error("there is not a summary for every trial");
    for (std::size_t i = 0; i < values.size(); ++i) {
        auto faults = faultsOf(summaries[i], trials[i]);
        result.trials.push_back({values[i], trials[i], std::move(summaries[i]), std::move(faults)});
    }
    std::sort(result.trials.begin(), result.trials.end(),
              [](const FitTrial& a, const FitTrial& b) { return a.tenths < b.tenths; });
}

} // namespace

FitResult searchFit(const cut::CutSettings& settings, const FitQuantity& quantity, const TenthRange& range,
                    const CutAll& cutAll) {
    FitResult result{&quantity, range, {}, {}, {}};
    const auto present = std::clamp(tenthsOf(settings, quantity), range.least, range.greatest);
    auto bracket = bracketOf({}, quantity.vary, range);
    while (bracket.above - bracket.below > 1) {
        cutValues(result, settings, nextValues(bracket, range, present, quantity.firstStep_tenths), cutAll);
        bracket = bracketOf(result.trials, quantity.vary, range);
    }
    for (std::size_t i = 0; i < result.trials.size(); ++i) {
        if (result.trials[i].tenths == bracket.below)
            result.lower = i;
        if (result.trials[i].tenths == bracket.above)
            result.upper = i;
    }
    return result;
}

} // namespace headland::console
