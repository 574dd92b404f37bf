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
      swings_um(s.sectorsPerTurn + horizon + s.guardSectors + 8),
      depth(s),
      pitch(s, horizon),
      spacings_um(static_cast<std::size_t>(pitch.mostDemand())),
      comingPitch_um(static_cast<std::size_t>(horizon)),
      comingSpacing_um(static_cast<std::size_t>(horizon)) {}

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
    swings_um[known - 1] = swing_um(known - 1);
}

/// The land added at a sector; past what is known, as at its end.
double CutPlanner::landAdd_um(std::int64_t sector) const noexcept {
    return rides[std::min(sector, heard - 1)].landAdd_um;
}

/// Sum of both edges' swings towards each other, in a sector and at the same angle one turn before, and of what is
/// added to the land. Past what is known nothing swings.
double CutPlanner::swing_um(std::int64_t sector) const noexcept {
    const auto before = sector - setup.sectorsPerTurn;
    const auto outer_um = sector < known ? guardedRing[sector].outer_um : 0.0;
    const auto inner_um = before < known ? guardedRing[before].inner_um : 0.0;
    return outer_um + inner_um + landAdd_um(sector);
}

/// The same, and what both depths rise above a straight line in the sector.
double CutPlanner::pairing_um(std::int64_t sector) const noexcept {
    if (!hasTurnBefore(sector))
        return -std::numeric_limits<double>::infinity();
    return (sector < known ? swings_um[sector] : swing_um(sector)) + depth.bulge_um(sector)
           + depth.bulge_um(sector - setup.sectorsPerTurn);
}

/// Spacing demanded of a boundary by a pair of swings beside it.
double CutPlanner::spacing_um(std::int64_t boundary, double pair_um) const noexcept {
    return setup.landMin_um + pair_um + depth.at(boundary).axis_um
           + depth.at(boundary - setup.sectorsPerTurn).axis_um;
}

/// Spacing demanded of a boundary: that of both sectors beside it, so that it holds between boundaries too.
double CutPlanner::spacing_um(std::int64_t boundary) const noexcept {
    if (!hasTurnBefore(boundary))
        return -std::numeric_limits<double>::infinity();
    return spacing_um(boundary, std::max(pairing_um(boundary - 1), pairing_um(boundary)));
}

/// As spacing_um() for so many boundaries, as far as pitch can make it.
std::span<const double> CutPlanner::demandAhead(std::int64_t sector, int boundaries) noexcept {
    const auto demanded_um = std::span(spacings_um).first(static_cast<std::size_t>(boundaries));
    auto before_um = pairing_um(sector);
    for (auto& each_um : demanded_um) {
        const auto after_um = pairing_um(++sector);
        each_um = hasTurnBefore(sector) ? std::min(spacing_um(sector, std::max(before_um, after_um)),
                                                   setup.greatestSpacing_um())
                                        : -std::numeric_limits<double>::infinity();
        before_um = after_um;
    }
    return demanded_um;
}

/// How far the sector planned last is from its own spacing where it comes nearest, from the paths that pitch and depth
/// take in it. What is smaller than the promise by an order of magnitude is none.
double CutPlanner::missed_um(std::int64_t sector) const noexcept {
    constexpr double none_um = 0.01;
    if (!hasTurnBefore(sector))
        return 0;
    auto worst_um = 0.0;
    for (const auto boundary : {sector, sector + 1}) {
        const auto demanded_um =
            std::min(spacing_um(boundary, pairing_um(sector)), setup.greatestSpacing_um());
        worst_um = std::max(worst_um, demanded_um + pitch.sag_um() - pitch.spacing_um(boundary));
    }
    return worst_um > none_um ? worst_um : 0;
}

SectorPlan CutPlanner::plan(const PitchAim& aim) noexcept {
    const auto sector = pitch.presentBoundary();
    depth.planTo(sector + 1);
    const auto ahead_um = demandAhead(sector, pitch.demandWanted(aim));
    const auto demand_um = spacing_um(sector + 1);
    const auto step = pitch.step({ahead_um, static_cast<int>(known - sector), typicalOuter_um}, aim);
    shortfall_um =
        std::max({step.shortfall_um, depth.shortfall_um(), aim.heedDemand ? missed_um(sector) : 0.0});
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
