// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/CutPlanner.h"

#include <algorithm>
#include <limits>

namespace headland::plan {

CutPlanner::CutPlanner(const PlanSetup& s)
    : setup(s),
      horizon(s.previewSectors + s.sectorsPerTurn),
      heardRing(s.sectorsPerTurn + horizon + 8),
      rides(s.sectorsPerTurn + horizon + 8),
      innerBins_um(s.binsPerTurn() + s.platterBins + 1),
      innerSectors_um(s.sectorsPerTurn + horizon + 8),
      swings_um(s.sectorsPerTurn + horizon + 8),
      pairBins_um((s.previewSectors + s.sectorsPerTurn + 8) * static_cast<std::int64_t>(s.binsPerSector)),
      widestInner(2 * s.platterBins + 1),
      widestPair(2 * s.previewBins + 1),
      widestUpward(2 * s.previewBins + 1),
      depth(s),
      pitch(s, horizon, horizon + s.rehearsedSectors),
      rehearsed(s),
      watch(s),
      spacings_um(static_cast<std::size_t>(pitch.floorDemand())),
      outlooks_um(static_cast<std::size_t>(pitch.outlookMost())),
      comingPitch_um(static_cast<std::size_t>(horizon)),
      comingSpacing_um(static_cast<std::size_t>(horizon)) {}

void CutPlanner::start(double pitch_um, std::int64_t atBoundary) noexcept {
    first = atBoundary;
    depth.start(atBoundary);
    pitch.start(pitch_um, atBoundary);
}

void CutPlanner::hear(std::span<const SectorExtremes> bins, const Ride& ride) noexcept {
    if (rehearsed.isUsed() && watch.isMisfit())
        doubt();
    rides[heard] = ride;
    heardRing[heard] = bins.front();
    for (const auto& bin : bins)
        heardRing[heard] = widest(heardRing[heard], bin);
    typicalOuter_um += (heardRing[heard].outer_um - typicalOuter_um) / setup.sectorsPerTurn;
    ++heard;
    for (const auto& bin : bins)
        hearBin(bin);
}

/// Pairs a bin's outer swing with the inner one at the same angle a turn before, wherever the platter may have put that; and
/// both with the depth's demand wherever the preview may have put them.
void CutPlanner::hearBin(const SectorExtremes& bin) noexcept {
    if (rehearsed.isUsed())
        watch.hear(bin, heardBins);
    const auto inner_um = widestInner.push(bin.inner_um);
    if (const auto of = heardBins - setup.platterBins; of >= 0) {
        innerBins_um[of] = inner_um;
        auto& sector_um = innerSectors_um[of / setup.binsPerSector];
        sector_um = of % setup.binsPerSector == 0 ? inner_um : std::max(sector_um, inner_um);
    }
    const auto before = heardBins - setup.binsPerTurn();
    const auto pair_um = widestPair.push(bin.outer_um + (before >= 0 ? innerBins_um[before] : 0));
    const auto lift_um = widestUpward.push(bin.upward_um);
    if (const auto of = heardBins - setup.previewBins; of >= 0)
        know(of, pair_um, lift_um);
    ++heardBins;
}

void CutPlanner::know(std::int64_t bin, double pair_um, double lift_um) noexcept {
    const auto isFirst = bin % setup.binsPerSector == 0;
    pairBins_um[bin] = pair_um;
    swings_um[known] = isFirst ? pair_um : std::max(swings_um[known], pair_um);
    upward_um = isFirst ? lift_um : std::max(upward_um, lift_um);
    if ((bin + 1) % setup.binsPerSector != 0)
        return;
    depth.demand(upward_um, rides[known].depthAdd_um);
    ++known;
    lookAhead();
}

/// As far as a plan can want to be told.
void CutPlanner::lookAhead() noexcept {
    rehearsed.lookTo(known + pitch.outlookMost() + 1);
}

/// The land added at a sector; past what is known, as at its end.
double CutPlanner::landAdd_um(std::int64_t sector) const noexcept {
    return rides[std::min(sector, heard - 1)].landAdd_um;
}

/// Greatest sum of both edges' swings towards each other in a sector, and what is added to the land. Past what is known the
/// outer edge does not swing.
double CutPlanner::swing_um(std::int64_t sector) const noexcept {
    const auto before = sector - setup.sectorsPerTurn;
    const auto swings = sector < known ? swings_um[sector] : before < known ? innerSectors_um[before] : 0.0;
    return swings + landAdd_um(sector);
}

/// The same at the end of the i-th bin of a sector (0: at its begin): that of both bins beside it, as far as they are the
/// sector's.
double CutPlanner::pair_um(std::int64_t sector, int i) const noexcept {
    if (sector >= known)
        return swing_um(sector);
    const auto firstBin = sector * setup.binsPerSector;
    const auto before = firstBin + std::max(0, i - 1),
               after = firstBin + std::min(i, setup.binsPerSector - 1);
    return std::max(pairBins_um[before], pairBins_um[after]) + landAdd_um(sector);
}

/// Both grooves' depths at a boundary.
double CutPlanner::depths_um(std::int64_t boundary) const noexcept {
    return depth.at(boundary).axis_um + depth.at(boundary - setup.sectorsPerTurn).axis_um;
}

/// What both rise above a straight line in a sector, at most.
double CutPlanner::bulges_um(std::int64_t sector) const noexcept {
    return depth.bulge_um(sector) + depth.bulge_um(sector - setup.sectorsPerTurn);
}

/// Greatest spacing demanded anywhere in a sector, at most.
double CutPlanner::demand_um(std::int64_t sector) const noexcept {
    return demandBetween_um(sector, depths_um(sector), depths_um(sector + 1));
}

/// The same, from both grooves' depths at the sector's begin and end.
double CutPlanner::demandBetween_um(std::int64_t sector, double begin_um, double end_um) const noexcept {
    if (!hasTurnBefore(sector))
        return -std::numeric_limits<double>::infinity();
    return setup.landMin_um + swing_um(sector) + bulges_um(sector) + std::max(begin_um, end_um);
}

/// Spacing demanded at the end of each bin of a sector that has a turn before it, and at its begin, as far as pitch can make it.
void CutPlanner::within(std::int64_t sector, Places& spacing_um) const noexcept {
    const auto begin_um = depths_um(sector);
    const auto perPart_um = (depths_um(sector + 1) - begin_um) / setup.binsPerSector;
    const auto without_um = setup.landMin_um + bulges_um(sector) + begin_um;
    for (int i = 0; i <= setup.binsPerSector; ++i)
        spacing_um[static_cast<std::size_t>(i)] =
            std::min(without_um + pair_um(sector, i) + perPart_um * i, setup.greatestSpacing_um());
}

/// As demand_um() for the sectors that can be a floor, as far as pitch can make it.
std::span<const double> CutPlanner::demandAhead(std::int64_t sector) noexcept {
    auto begin_um = depths_um(sector);
    for (auto& each_um : spacings_um) {
        const auto end_um = depths_um(sector + 1);
        each_um = std::min(demandBetween_um(sector++, begin_um, end_um), setup.greatestSpacing_um());
        begin_um = end_um;
    }
    return spacings_um;
}

void CutPlanner::believe(const Profile& profile, const ProfilePlace& place) noexcept {
    rehearsed.use(profile, place, known);
    watch.begin(profile, place, heardBins);
    lookAhead();
}

/// A groove's depth at a boundary, as rehearsed where it is not planned yet.
double CutPlanner::depthOutlook_um(std::int64_t boundary) const noexcept {
    return boundary < known || boundary >= rehearsed.toldTo() ? depth.at(boundary).axis_um
                                                              : rehearsed.depth_um(boundary);
}

/// As demand_um(), but of a sector that has not been heard, as rehearsed.
double CutPlanner::outlook_um(std::int64_t sector) const noexcept {
    if (sector < known || sector + 1 >= rehearsed.toldTo() || !hasTurnBefore(sector))
        return demand_um(sector);
    const auto before = sector - setup.sectorsPerTurn;
    const auto inner_um = before < known ? innerSectors_um[before] : rehearsed.inner_um(before);
    const auto depths = [this](std::int64_t at) {
        return std::max(depthOutlook_um(at), depthOutlook_um(at + 1));
    };
    return setup.landMin_um + landAdd_um(sector) + rehearsed.outer_um(sector) + inner_um + depths(sector)
           + depths(before);
}

/// That for as many sectors as a plan is made for.
std::span<const double> CutPlanner::outlookAhead(std::int64_t sector, int told) noexcept {
    const auto outlooks = std::span(outlooks_um).first(static_cast<std::size_t>(pitch.outlook(told)));
    for (auto& each_um : outlooks)
        each_um = std::min(outlook_um(sector++), setup.greatestSpacing_um());
    return outlooks;
}

/// How far the sector planned last is from its own spacing where it comes nearest, from the paths that pitch and depth
/// take in it. What is smaller than the promise by an order of magnitude is none.
double CutPlanner::missed_um(std::int64_t sector) const noexcept {
    constexpr double none_um = 0.01;
    if (!hasTurnBefore(sector))
        return 0;
    auto worst_um = 0.0;
    Places demanded_um;
    within(sector, demanded_um);
    const auto begin_um = pitch.spacing_um(sector), end_um = pitch.spacing_um(sector + 1);
    for (int i = 0; i <= setup.binsPerSector; ++i) {
        const auto made_um = begin_um + (end_um - begin_um) * i / setup.binsPerSector;
        worst_um = std::max(worst_um, demanded_um[static_cast<std::size_t>(i)] + pitch.sag_um() - made_um);
    }
    return worst_um > none_um ? worst_um : 0;
}

SectorPlan CutPlanner::plan(const PitchAim& aim) noexcept {
    const auto sector = pitch.presentBoundary();
    depth.planTo(sector + 1);
    DemandAhead ahead{demandAhead(sector), static_cast<int>(known - sector), typicalOuter_um};
    ahead.first = sector;
    ahead.inside = this;
    ahead.told = static_cast<int>(std::max<std::int64_t>(0, rehearsed.toldTo() - 1 - sector));
    if (pitch.wantsOutlook(aim))
        ahead.outlook_um = outlookAhead(sector, ahead.told);
    const auto demanded_um = demand_um(sector);
    const auto step = pitch.step(ahead, aim);
    shortfall_um =
        std::max({step.shortfall_um, depth.shortfall_um(), aim.heedDemand ? missed_um(sector) : 0.0});
    return {step.command_um, depth.at(sector + 1).command_um, demanded_um, shortfall_um,
            demanded_um > setup.pitch.greatest_um || depth.limited(sector)};
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

/// Of the places of some sectors the one where least room is left over.
void CutPlanner::showTightest(ForesightStep& shown, std::int64_t sector, std::int64_t end) const noexcept {
    const auto present = pitch.presentBoundary();
    const auto made_um = [&](std::int64_t boundary) {
        return boundary == present ? pitch.spacing_um(present)
                                   : comingSpacing_um[static_cast<std::size_t>(boundary - present) - 1];
    };
    shown.spacing_um = -std::numeric_limits<float>::infinity();
    shown.madeSpacing_um = static_cast<float>(made_um(end));
    auto leastSpare_um = std::numeric_limits<double>::infinity();
    Places all_um;
    for (sector = std::max(sector, first + setup.sectorsPerTurn); sector < end; ++sector) {
        within(sector, all_um);
        const auto begin_um = made_um(sector), rise_um = made_um(sector + 1) - begin_um;
        for (int i = 0; i <= setup.binsPerSector; ++i) {
            const auto there_um = begin_um + rise_um * i / setup.binsPerSector;
            const auto demanded_um = all_um[static_cast<std::size_t>(i)];
            if (there_um - demanded_um >= leastSpare_um)
                continue;
            leastSpare_um = there_um - demanded_um;
            shown.spacing_um = static_cast<float>(demanded_um);
            shown.madeSpacing_um = static_cast<float>(there_um);
        }
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
        showTightest(shown, from + first, from + first + each);
        shown.pitch_um = static_cast<float>(comingPitch_um[static_cast<std::size_t>(first + each) - 1]);
        shown.depth_um = static_cast<float>(depth.at(from + first + each).axis_um);
    }
}

} // namespace headland::plan
