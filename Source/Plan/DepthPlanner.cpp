// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/DepthPlanner.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headland::plan {

namespace {

/// The axis runs on by slew·lag·(1 − ln 2) when the command turns round at full slew the moment a demand is met.
double overshoot_um(const AxisLimits& axis) {
    return axis.slew_um_s * axis.lag_s * (1 - std::numbers::ln2);
}

int sectorsToMatter(const PlanSetup& setup) {
    const auto range_s = (setup.depth.greatest_um - setup.depthBasic_um) / setup.depth.slew_um_s;
    const auto sectors = std::ceil((range_s + 4 * setup.depth.lag_s) / setup.sector_s()) + 1;
    return static_cast<int>(std::min(sectors, static_cast<double>(setup.previewSectors)));
}

} // namespace

DepthPlanner::DepthPlanner(const PlanSetup& s)
    : setup(s),
      model(s.sector_s(), s.depth.lag_s),
      reachable_um(std::max(s.depthBasic_um, s.depth.greatest_um - overshoot_um(s.depth))),
      lookahead(std::max(1, sectorsToMatter(s))),
      wanted_um(2 * s.sectorsPerTurn + s.previewSectors + lookahead + 8, s.depthBasic_um),
      states(2 * s.sectorsPerTurn + s.previewSectors + lookahead + 8, {s.depthBasic_um, s.depthBasic_um}) {
    forecast = FullSlewForecast(s.sector_s(), s.depth.lag_s, s.depth.slew_um_s, lookahead);
}

void DepthPlanner::demand(double upward_um, double added_um) noexcept {
    const auto basic_um =
        std::min(setup.depthBasic_um + added_um, reachable_um); // no wish is ever out of reach
    wanted_um[known++] = std::max(basic_um, setup.widthMin_um / 2 + upward_um);
}

void DepthPlanner::start(std::int64_t boundary) noexcept {
    certain = boundary;
    for (auto b = std::max<std::int64_t>(0, boundary - setup.sectorsPerTurn); b <= boundary; ++b)
        states[b] = {setup.depthBasic_um, setup.depthBasic_um};
}

double DepthPlanner::boundaryDemand(std::int64_t boundary) const noexcept {
    const auto before = wanted_um[boundary - 1];
    const auto after = boundary < known ? wanted_um[boundary] : setup.depthBasic_um;
    return std::min(std::max(before, after), reachable_um);
}

DepthPlanner::Step DepthPlanner::step(std::int64_t from) const noexcept {
    const auto now = states[from];
    const auto reach_um = setup.depth.slew_um_s * setup.sector_s();
    const auto last = static_cast<int>(std::min<std::int64_t>(lookahead, known - from));
    auto least_um = std::max(setup.depthBasic_um, now.command_um - reach_um);
    auto worst_um = 0.0;
    for (int j = 1; j <= last; ++j) {
        const auto demand_um = boundaryDemand(from + j);
        if (demand_um <= setup.depthBasic_um)
            continue;
        const auto& axis = forecast.axis(j);
        const auto envelope_um = demand_um - reach_um * (j - 1);
        least_um = std::max({least_um, envelope_um, (demand_um - axis.rest(now)) / axis.v1});
        worst_um = std::max(worst_um, demand_um - axis.at(now.command_um + reach_um, now));
    }
    return {std::min(least_um, now.command_um + reach_um), worst_um};
}

void DepthPlanner::planTo(std::int64_t boundary) noexcept {
    const auto standing = std::max(boundary, known - lookahead);
    shortfall = 0;
    while (certain < standing) {
        const auto next = step(certain);
        shortfall = std::max(shortfall, next.shortfall_um);
        states[certain + 1] = model.after(states[certain], next.command_um);
        ++certain;
    }
    for (auto b = certain; b < known; ++b)
        states[b + 1] = model.after(states[b], step(b).command_um);
}

AxisState DepthPlanner::at(std::int64_t boundary) const noexcept {
    return states[std::min(boundary, std::max(known, certain))];
}

} // namespace headland::plan
