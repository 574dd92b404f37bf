// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/SteadinessChoice.h"

#include "Console/DelayChoice.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace headland::console {

namespace {

constexpr std::array usual_percent{0.0, 0.5, 1.0, 2.0, 4.0};

/// The groove comes out as well as at the chosen delay.
bool isAsGood(const cut::CutSummary& one, const cut::CutSummary& other, double landSet_um) {
    return canBeCut(one) >= canBeCut(other) && keepsLand(one) >= keepsLand(other)
           && missingLand_um(one, landSet_um) <= missingLand_um(other, landSet_um) + sameLand_um;
}

double price_mm(const cut::CutSummary& summary, const cut::CutSummary& least) {
    constexpr double still_um = 0.1; // a pitch that moves less is as good as one that stands
    const auto travel = std::max(summary.pitchTravel_um, still_um) / std::max(least.pitchTravel_um, still_um);
    return summary.used_mm + worthOfHalfTheTravel * least.used_mm * std::log2(travel);
}

} // namespace

std::vector<double> steadinessToTry(const cut::CutSettings& settings) {
    std::vector<double> all(usual_percent.begin(), usual_percent.end());
    all.push_back(settings.steady_pitch_percent);
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
    return all;
}

std::size_t chooseSteadiness(const std::vector<SteadinessTrial>& trials, std::size_t atDelay,
                             double landSet_um) {
    const auto& given = trials[atDelay].summary;
    const auto price = [&](std::size_t i) { return price_mm(trials[i].summary, given); };
    auto best = atDelay;
    for (std::size_t i = 0; i < trials.size(); ++i)
        if (isAsGood(trials[i].summary, given, landSet_um) && price(i) < price(best))
            best = i;
    return price(atDelay) - price(best) > worthAChange * given.used_mm ? best : atDelay;
}

} // namespace headland::console
