// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/CutPlanner.h"

#include <algorithm>
#include <limits>

namespace headland::plan {

CutPlanner::CutPlanner(const PlanSetup& s)
    : setup(s),
      horizon(s.previewSectors + s.sectorsPerTurn),
      heardRing(s.sectorsPerTurn + horizon + s.guardSectors + 8),
      guardedRing(s.sectorsPerTurn + horizon + s.guardSectors + 8),
      rides(s.sectorsPerTurn + horizon + s.guardSectors + 8),
      depth(s),
      pitch(s, horizon),
      spacings_um(static_cast<std::size_t>(horizon)),
      comingPitch_um(spacings_um.size()),
      comingSpacing_um(spacings_um.size()) {}

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
    shortfall_um = std::max(step.shortfall_um, depth.shortfall_um());
    return {step.command_um, depth.at(sector + 1).command_um, demand_um, shortfall_um,
            demand_um > setup.pitch.greatest_um || depth.limited(sector)};
}

/// Divides what has been heard from a sector on into steps; returns how many sectors each has.
std::int64_t CutPlanner::divide(Foresight& coming, std::int64_t from) const noexcept {
    constexpr auto most = static_cast<std::int64_t>(Foresight::stepsMax);
    const auto sectors = std::max<std::int64_t>(0, heard - from);
    const auto each = std::max<std::int64_t>(1, (sectors + most - 1) / most);
    coming.step_s = static_cast<double>(each) * setup.sector_s();
    coming.count = static_cast<std::size_t>(sectors / each);
    return each;
}

/// What was heard in some sectors.
ForesightStep CutPlanner::heardStep(std::int64_t from, std::int64_t end) const noexcept {
    constexpr auto unknown = std::numeric_limits<float>::quiet_NaN();
    auto swing = heardRing[from];
    for (auto sector = from + 1; sector < end; ++sector)
        swing = widest(swing, heardRing[sector]);
    return {static_cast<float>(swing.outer_um),
            static_cast<float>(swing.inner_um),
            unknown,
            unknown,
            unknown,
            unknown};
}

void CutPlanner::foreseeHeard(Foresight& coming, std::int64_t from) const noexcept {
    const auto each = divide(coming, from);
    coming.shortfall_um = 0;
    for (std::size_t step = 0; step < coming.count; ++step) {
        const auto first = from + static_cast<std::int64_t>(step) * each;
        coming.all[step] = heardStep(first, first + each);
    }
}

void CutPlanner::foresee(Foresight& coming) noexcept {
    const auto from = pitch.presentBoundary();
    const auto each = divide(coming, from);
    coming.shortfall_um = shortfall_um;
    pitch.foresee(comingPitch_um, comingSpacing_um);
    for (std::size_t step = 0; step < coming.count; ++step) {
        const auto first = static_cast<std::int64_t>(step) * each;
        auto& shown = coming.all[step] = heardStep(from + first, from + first + each);
        auto tightest = first + 1; // the boundary where least room is left over
        const auto spare_um = [&](std::int64_t ahead) {
            return comingSpacing_um[static_cast<std::size_t>(ahead) - 1] - spacing_um(from + ahead);
        };
        for (auto ahead = first + 2; ahead <= first + each; ++ahead)
            if (spare_um(ahead) < spare_um(tightest))
                tightest = ahead;
        shown.spacing_um = static_cast<float>(spacing_um(from + tightest));
        shown.madeSpacing_um = static_cast<float>(comingSpacing_um[static_cast<std::size_t>(tightest) - 1]);
        shown.pitch_um = static_cast<float>(comingPitch_um[static_cast<std::size_t>(first + each) - 1]);
        shown.depth_um = static_cast<float>(depth.at(from + first + each).axis_um);
    }
}

} // namespace headland::plan
