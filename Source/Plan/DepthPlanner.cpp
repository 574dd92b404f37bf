// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/DepthPlanner.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headland::plan {

namespace {

/// Demands looked at in a sector's planning, at most, beyond those of the next sector: bounds its time. Ordinary set-ups
/// need a twentieth of it, but for the first sector, when all of the preview is new.
constexpr std::int64_t mostVisits = 6144;

/// The axis runs on by slew·lag·(1 − ln 2) when the command turns round at full slew the moment a demand is met.
double overshoot_um(const AxisLimits& axis) {
    return axis.slew_um_s * axis.lag_s * (1 - std::numbers::ln2);
}

int depthSectorsToMatter(const PlanSetup& setup) {
    const auto range_s = (setup.depth.greatest_um - setup.depthBasic_um) / setup.depth.slew_um_s;
    const auto sectors = std::ceil((range_s + 4 * setup.depth.lag_s) / setup.sector_s()) + 1;
    return static_cast<int>(std::min(sectors, static_cast<double>(setup.previewSectors)));
}

} // namespace

DepthPlanner::DepthPlanner(const PlanSetup& s)
    : setup(s),
      model(s.sector_s(), s.depth.lag_s),
      reachable_um(std::max(s.depthBasic_um, s.depth.greatest_um - overshoot_um(s.depth))),
      lookahead(std::max(1, depthSectorsToMatter(s))),
      wanted_um(2 * s.sectorsPerTurn + s.previewSectors + lookahead + 8, s.depthBasic_um),
      states(2 * s.sectorsPerTurn + s.previewSectors + lookahead + 8, {s.depthBasic_um, s.depthBasic_um}),
      bulges_um(2 * s.sectorsPerTurn + s.previewSectors + lookahead + 8) {
    forecast = FullSlewForecast(s.sector_s(), s.depth.lag_s, s.depth.slew_um_s, lookahead);
}

void DepthPlanner::demand(double upward_um, double added_um) noexcept {
    const auto basic_um =
        std::min(setup.depthBasic_um + added_um, reachable_um); // no wish is ever out of reach
    wanted_um[known] = std::max(basic_um, setup.widthMin_um / 2 + upward_um);
    spoilFrom(known++);
}

/// A new sector's demand: the plan is to be made anew from the first boundary on where it asks for more than was planned,
/// even of a drive at full slew that starts out of rest.
void DepthPlanner::spoilFrom(std::int64_t sector) noexcept {
    const auto reach_um = setup.depth.slew_um_s * setup.sector_s();
    planned = std::min(planned, sector);
    auto need_um = std::min(wanted_um[sector], reachable_um) + setup.depth.slew_um_s * setup.depth.lag_s;
    if (wanted_um[sector] <= setup.depthBasic_um)
        return;
    while (planned > certain && need_um > states[planned].command_um) {
        --planned;
        need_um -= reach_um;
    }
}

void DepthPlanner::start(std::int64_t boundary) noexcept {
    certain = planned = filled = boundary;
    for (auto b = std::max<std::int64_t>(0, boundary - setup.sectorsPerTurn); b <= boundary; ++b) {
        states[b] = {setup.depthBasic_um, setup.depthBasic_um};
        bulges_um[b] = 0;
    }
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

/// Plans one sector: the command goes there in a straight line.
void DepthPlanner::go(std::int64_t from, double command_um) noexcept {
    states[from + 1] = model.after(states[from], command_um);
    bulges_um[from] = model.above_um(states[from], states[from + 1]);
}

void DepthPlanner::planTo(std::int64_t boundary) noexcept {
    auto left = mostVisits;
    const auto next = [&](std::int64_t from) {
        left -= std::min<std::int64_t>(lookahead, known - from);
        const auto result = step(from);
        go(from, result.command_um);
        return result.shortfall_um;
    };
    shortfall = 0;
    while (certain < boundary || (certain < known - lookahead && left > 0))
        shortfall = std::max(shortfall, next(certain++));
    for (planned = std::max(planned, certain); planned < known && left > 0; ++planned)
        next(planned);
    // What could not be planned yet is taken to fall to the basic depth where nothing was planned before.
    const auto reach_um = setup.depth.slew_um_s * setup.sector_s();
    for (filled = std::max(filled, planned); filled < known; ++filled)
        go(filled, std::max(setup.depthBasic_um, states[filled].command_um - reach_um));
}

} // namespace headland::plan
