// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/CutPlanner.h"

#include <algorithm>
#include <limits>

namespace headland::plan {

CutPlanner::CutPlanner(const PlanSetup& s)
    : setup(s),
      horizon(s.previewSectors + s.sectorsPerTurn),
      heardRing(2 * s.guardSectors + 4),
      guardedRing(s.sectorsPerTurn + horizon + s.guardSectors + 8),
      rides(s.sectorsPerTurn + horizon + s.guardSectors + 8),
      depth(s),
      pitch(s, horizon),
      spacings_um(static_cast<std::size_t>(horizon)) {}

SectorExtremes CutPlanner::widened(std::int64_t sector) const noexcept {
    auto result = heardRing[sector];
    for (auto i = std::max<std::int64_t>(0, sector - setup.guardSectors); i <= sector + setup.guardSectors;
         ++i)
        result = widest(result, heardRing[i]);
    return result;
}

void CutPlanner::start(double pitch_um, std::int64_t atBoundary) noexcept {
    first = atBoundary;
    depth.start(atBoundary);
    pitch.start(pitch_um, atBoundary);
}

void CutPlanner::hear(const SectorExtremes& extremes, const Ride& ride) noexcept {
    rides[heard] = ride;
    heardRing[heard++] = extremes;
    if (heard <= setup.guardSectors)
        return;
    guardedRing[known] = widened(known);
    depth.demand(guardedRing[known].upward_um, rides[known].depthAdd_um);
    typicalOuter_um += (guardedRing[known].outer_um - typicalOuter_um) / setup.sectorsPerTurn;
    ++known;
}

/// The land added at a sector; past what is known, as at its end.
double CutPlanner::landAdd_um(std::int64_t sector) const noexcept {
    return rides[std::min(sector, heard - 1)].landAdd_um;
}

/// Sum of both edges' swings towards each other, in a sector and at the same angle one turn before, and of what is
/// added to the land.
double CutPlanner::pairing_um(std::int64_t sector) const noexcept {
    const auto outer = sector < known ? guardedRing[sector].outer_um : 0.0;
    const auto before = sector - setup.sectorsPerTurn;
    return hasTurnBefore(sector) ? outer + guardedRing[before].inner_um + landAdd_um(sector)
                                 : -std::numeric_limits<double>::infinity();
}

/// Spacing demanded of a boundary: that of both sectors beside it, so that it holds between boundaries too.
double CutPlanner::spacing_um(std::int64_t boundary) const noexcept {
    const auto pair_um = std::max(pairing_um(boundary - 1), pairing_um(boundary));
    if (!hasTurnBefore(boundary))
        return -std::numeric_limits<double>::infinity();
    return setup.landMin_um + pair_um + depth.at(boundary).axis_um
           + depth.at(boundary - setup.sectorsPerTurn).axis_um;
}

SectorPlan CutPlanner::plan(const PitchAim& aim) noexcept {
    const auto sector = pitch.presentBoundary();
    depth.planTo(sector + 1);
    for (int j = 1; j <= horizon; ++j)
        spacings_um[static_cast<std::size_t>(j) - 1] =
            std::min(spacing_um(sector + j), setup.greatestSpacing_um());
    const auto demand_um = spacing_um(sector + 1);
    const auto step = pitch.step({spacings_um, static_cast<int>(known - sector), typicalOuter_um}, aim);
    return {step.command_um, depth.at(sector + 1).command_um, demand_um,
            std::max(step.shortfall_um, depth.shortfall_um()),
            demand_um > setup.pitch.greatest_um || depth.limited(sector)};
}

} // namespace headland::plan
