// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/PitchPlanner.h"

#include <algorithm>
#include <cmath>

namespace headland::plan {

namespace {

/// Boundaries ahead past which no demand binds: full slew has the command at its greatest, a lagging carriage within
/// half the margin of PlanSetup::greatestSpacing_um(), and a turn made there.
std::size_t pitchSectorsToMatter(const PlanSetup& s) {
    constexpr double within_um = 0.05;
    const auto range_um = s.pitch.greatest_um - s.pitch.least_um;
    const auto behind_um = range_um + s.pitch.slew_um_s * s.pitch.lag_s;
    const auto settled_s = s.pitch.lag_s * std::log(std::max(1.0, behind_um / within_um));
    return static_cast<std::size_t>(
        std::ceil((range_um / s.pitch.slew_um_s + settled_s + s.turn_s) / s.sector_s()) + 1);
}

} // namespace

std::vector<PitchOptimiser> PitchPlanner::optimisersFor(const PlanSetup& s, int horizon,
                                                        int rehearsedHorizon) {
    std::vector<PitchOptimiser> all{PitchOptimiser(s, horizon)};
    if (rehearsedHorizon > horizon)
        all.emplace_back(s, rehearsedHorizon);
    return all;
}

PitchPlanner::PitchPlanner(const PlanSetup& s, int horizon, int rehearsedHorizon)
    : setup(s),
      floorHorizon(std::min(static_cast<std::size_t>(std::max(s.sectorsPerTurn, horizon - s.sectorsPerTurn)),
                            pitchSectorsToMatter(s))),
      optimisers(optimisersFor(s, horizon, rehearsedHorizon)),
      model(s.sector_s(), s.pitch.lag_s),
      rising(s.sector_s(), s.pitch.lag_s, s.pitch.slew_um_s, static_cast<int>(floorHorizon)),
      positions_um(s.sectorsPerTurn + optimiser().sectorsPerPlan() + 2),
      bulges_um(s.sectorsPerTurn + 2),
      floor(floorDemand()),
      planned(outlookMost()),
      ahead_um(static_cast<std::size_t>(horizon) + 1) {
    spacings.push_back({});
    for (int j = 1; j <= static_cast<int>(floorHorizon); ++j) {
        auto run = rising.integral(j);
        if (j > s.sectorsPerTurn) { // the turn before lies ahead as well
            const auto& before = rising.integral(j - s.sectorsPerTurn);
            run = {run.v1 - before.v1, run.v0 - before.v0, run.q0 - before.q0,
                   run.constant - before.constant};
        }
        spacings.push_back(
            {run.v1 / s.turn_s, run.v0 / s.turn_s, run.q0 / s.turn_s, run.constant / s.turn_s});
    }
}

void PitchPlanner::start(double pitch_um, std::int64_t atBoundary) noexcept {
    boundary = atBoundary;
    positions_um[boundary] = 0;
    bulges_um[boundary - 1] = 0;
    now = {pitch_um, pitch_um};
    binding = -1;
    for (auto& each : optimisers)
        each.start();
    active = 0;
    sectorsToTarget = 0;
    aimed = {};
    aimed.wish_um = pitch_um;
    steady_um = nothingYet_um;
    steadySectors = 0;
}

/// Where the turn before was at the j-th boundary ahead, from the present position, µm; 0 where that lies ahead as well.
double PitchPlanner::before_um(int j) const noexcept {
    return j > setup.sectorsPerTurn
               ? 0
               : positions_um[boundary + j - setup.sectorsPerTurn] - positions_um[boundary];
}

PitchPlanner::Reach PitchPlanner::reach(int j) const noexcept {
    const auto& s = spacings[static_cast<std::size_t>(j)];
    return {s.v1, s.rest(now) - before_um(j)};
}

/// The demand on each boundary, raised so that it holds in the sectors beside it as well. How the pitch will go there is
/// open yet, so for what lies ahead it is the most that the drive can do.
DemandAhead PitchPlanner::withSag(DemandAhead demand, const PitchAim& aim, Raised& raised) const noexcept {
    const auto turn = setup.sectorsPerTurn;
    const auto count = std::min(demand.spacing_um.size(), raised.needed_um.size());
    const auto up_um = now.command_um + std::max(aim.slewUp_um_s, setup.pitch.slew_um_s) * setup.sector_s();
    const auto down_um =
        now.command_um - std::max(aim.slewDown_um_s, setup.pitch.slew_um_s) * setup.sector_s();
    const auto sag_um = model.integralBelow_um_s(now, {up_um, 0}) / setup.turn_s;
    const auto aheadBulge_um = model.integralAbove_um_s(now, {down_um, 0}) / setup.turn_s;
    const auto bulge_um = [&](std::int64_t sector) {
        return sector < boundary ? bulges_um[sector] : aheadBulge_um;
    };
    auto before_um = bulge_um(boundary - turn);
    for (std::size_t i = 0; i < count; ++i) {
        const auto after_um = bulge_um(boundary + static_cast<std::int64_t>(i) + 1 - turn);
        raised.added_um[i] = sag_um + std::max(before_um, after_um);
        raised.needed_um[i] = demand.spacing_um[i] + raised.added_um[i];
        before_um = after_um;
    }
    demand.spacing_um = std::span(raised.needed_um).first(count);
    demand.added_um = std::span(raised.added_um).first(count);
    return demand;
}

/// Least pitch from which full slew without end would meet every demand.
double PitchPlanner::floor_um(const DemandAhead& demand) const noexcept {
    auto least_um = 0.0;
    auto begin = reach(0);
    for (int j = 1; j <= static_cast<int>(demand.spacing_um.size()); ++j) {
        const auto end = reach(j);
        const auto most_um = demand.spacing_um[static_cast<std::size_t>(j) - 1];
        // Spacing is straight between boundaries but for what `demand` was raised by.
        if (least_um * end.perPitch + end.rest_um < most_um
            || least_um * begin.perPitch + begin.rest_um < most_um)
            demand.eachPlace(j, [&](double part, double spacing_um) {
                const auto perPitch = begin.perPitch + part * (end.perPitch - begin.perPitch);
                const auto rest_um = begin.rest_um + part * (end.rest_um - begin.rest_um);
                if (perPitch > 0)
                    least_um = std::max(least_um, (spacing_um - rest_um) / perPitch);
            });
        begin = end;
    }
    return least_um;
}

/// How far beyond the pitch limit full slew from `pitch_um` would be at the j-th boundary ahead; negative below it.
double PitchPlanner::pastLimit_um(int j, double pitch_um) const noexcept {
    return pitch_um + setup.pitch.slew_um_s * setup.sector_s() * (j - 1) - setup.pitch.greatest_um;
}

/// Integral of the pitch to the j-th boundary ahead when it goes to `pitch_um` and on at full slew up to its
/// limit, µm·s.
double PitchPlanner::cappedRun_um_s(int j, double pitch_um) const noexcept {
    const auto atLeast_um_s = cappedRunAtLeast_um_s(j, pitch_um);
    const auto excess_um = pastLimit_um(j, pitch_um);
    if (excess_um <= 0 || setup.pitch.lag_s == 0)
        return atLeast_um_s;
    // How far the carriage is behind the limit now, from how far it was behind when the command got there.
    constexpr double settledLags = 40; // e^-40 is nothing
    const auto sinceLimit_s = excess_um / setup.pitch.slew_um_s;
    if (sinceLimit_s > settledLags * setup.pitch.lag_s)
        return atLeast_um_s
               + setup.pitch.lag_s * (rising.axis(j).at(pitch_um, now) - setup.pitch.greatest_um);
    const auto untilLimit_s = setup.sector_s() * (j - 1) - sinceLimit_s;
    const auto ramp_um = setup.pitch.slew_um_s * setup.pitch.lag_s;
    const auto lead_um = pitch_um - model.after(now, pitch_um).axis_um;
    const auto leadAtLimit_um = ramp_um + (lead_um - ramp_um) * std::exp(-untilLimit_s / setup.pitch.lag_s);
    const auto axis_um =
        setup.pitch.greatest_um - leadAtLimit_um * std::exp(-sinceLimit_s / setup.pitch.lag_s);
    return atLeast_um_s + setup.pitch.lag_s * (rising.axis(j).at(pitch_um, now) - axis_um);
}

/// Spacing at the j-th boundary ahead, from the integral of the pitch to any boundary ahead.
template <typename Run>
double PitchPlanner::spacingOf_um(int j, Run run_um_s) const noexcept {
    if (j == 0)
        return -before_um(0);
    const auto turn = setup.sectorsPerTurn;
    return (run_um_s(j) - (j > turn ? run_um_s(j - turn) : 0.0)) / setup.turn_s - before_um(j);
}

/// That when the pitch goes to `pitch_um` and on as above.
double PitchPlanner::cappedSpacing_um(int j, double pitch_um) const noexcept {
    return spacingOf_um(j, [&](int to) { return cappedRun_um_s(to, pitch_um); });
}

/// How far a demand is missed then.
double PitchPlanner::shortfallAt_um(Place place, double pitch_um) const noexcept {
    const auto end_um = cappedSpacing_um(place.j, pitch_um);
    if (place.part == 1)
        return place.spacing_um - end_um;
    const auto begin_um = cappedSpacing_um(place.j - 1, pitch_um);
    return place.spacing_um - (begin_um + place.part * (end_um - begin_um));
}

/// The same as cappedRun_um_s() but for what the limit takes from a lagging carriage later than from its command: too
/// little, and by the more the further ahead.
double PitchPlanner::cappedRunAtLeast_um_s(int j, double pitch_um) const noexcept {
    const auto excess_um = std::max(0.0, pastLimit_um(j, pitch_um));
    return rising.integral(j).at(pitch_um, now) - excess_um * excess_um / (2 * setup.pitch.slew_um_s);
}

double PitchPlanner::spacingAtLeast_um(int j, double pitch_um) const noexcept {
    return spacingOf_um(j, [&](int to) { return cappedRunAtLeast_um_s(to, pitch_um); });
}

/// A cheap reason why no demand of a sector can be missed: even if the carriage took the limit's whole excess off at once.
/// Asked for one sector after the other, as a rule with the same pitch.
bool PitchPlanner::surelyMet(const DemandAhead& demand, int j, double pitch_um) noexcept {
    const auto most_um = demand.spacing_um[static_cast<std::size_t>(j) - 1];
    const auto isNext = sure.j == j - 1 && sure.pitch_um == pitch_um && sure.boundary == boundary;
    const auto begin_um =
        isNext || demand.inside == nullptr ? sure.spacing_um : spacingAtLeast_um(j - 1, pitch_um);
    sure = {boundary, j, pitch_um, spacingAtLeast_um(j, pitch_um)};
    return sure.spacing_um >= most_um && (demand.inside == nullptr || begin_um >= most_um);
}

/// `pitch_um`, raised up to `greatest_um` as far as the pitch limit makes that necessary for the demands of one sector.
double PitchPlanner::raised_um(const DemandAhead& demand, int j, double pitch_um,
                               double greatest_um) noexcept {
    if (pastLimit_um(j, pitch_um) <= 0 || pitch_um >= greatest_um || surelyMet(demand, j, pitch_um))
        return pitch_um;
    demand.eachPlace(j, [&](double part, double spacing_um) {
        pitch_um = raisedFor_um({j, part, spacing_um}, pitch_um, greatest_um);
    });
    return pitch_um;
}

double PitchPlanner::raisedFor_um(Place place, double pitch_um, double greatest_um) const noexcept {
    constexpr int halvings = 24;
    if (pitch_um >= greatest_um || shortfallAt_um(place, pitch_um) <= 0)
        return pitch_um;
    auto low = pitch_um, high = greatest_um;
    for (int i = 0; i < halvings; ++i) {
        const auto middle = (low + high) / 2;
        (shortfallAt_um(place, middle) > 0 ? low : high) = middle;
    }
    return high;
}

/// How far the worst of the demands will be missed when the pitch goes to `command_um` and on at full slew; 0: none.
double PitchPlanner::worstShortfall_um(const DemandAhead& demand, double command_um) noexcept {
    auto worst_um = 0.0;
    for (int j = 1; j <= static_cast<int>(demand.spacing_um.size()); ++j)
        if (!surelyMet(demand, j, command_um))
            demand.eachPlace(j, [&](double part, double spacing_um) {
                worst_um = std::max(worst_um, shortfallAt_um({j, part, spacing_um}, command_um));
            });
    return worst_um;
}

/// Raises `pitch_um` as far as the pitch limit makes necessary, up to `greatest_um`. The boundary that did so last comes
/// first, as it seldom is another; when many take turns all the same, the time is bounded by opening as far as can be.
double PitchPlanner::cappedFloor_um(const DemandAhead& demand, double pitch_um, double greatest_um) noexcept {
    constexpr int mostRaises = 32;
    const auto count = static_cast<std::int64_t>(demand.spacing_um.size());
    auto raises = 0;
    const auto heed = [&](int j) {
        const auto raised = raised_um(demand, j, pitch_um, greatest_um);
        if (raised <= pitch_um)
            return;
        pitch_um = ++raises > mostRaises ? greatest_um : raised;
        binding = boundary + j;
    };
    if (binding > boundary && binding <= boundary + count)
        heed(static_cast<int>(binding - boundary));
    const auto belowLimit = (setup.pitch.greatest_um - pitch_um) / (setup.pitch.slew_um_s * setup.sector_s());
    const auto first = std::clamp(belowLimit, 0.0, static_cast<double>(count));
    for (auto j = 1 + static_cast<int>(first); j <= static_cast<int>(count); ++j)
        heed(j);
    return pitch_um;
}

/// Counts how long the demand has been the same; at the beginning, for long enough.
void PitchPlanner::noteSteady(double spacing_um) noexcept {
    if (!isAlike(spacing_um)) {
        steadySectors = steady_um == nothingYet_um ? setup.sectorsPerTurn : 0;
        steady_um = spacing_um;
    }
    ++steadySectors;
}

/// Whether the demand has been the same for a turn and stays so as far ahead as is heard: silence above all.
bool PitchPlanner::staysSteady(const DemandAhead& demand) const noexcept {
    const auto known_um =
        demand.spacing_um.first(std::min(demand.spacing_um.size(), static_cast<std::size_t>(demand.known)));
    return steadySectors > setup.sectorsPerTurn
           && std::all_of(known_um.begin(), known_um.end(), [this](double um) { return isAlike(um); });
}

bool PitchPlanner::isAlike(double spacing_um) const noexcept {
    constexpr double alike_um = 1;
    return std::abs(spacing_um - steady_um) <= alike_um;
}

/// On the way to what the optimiser last asked for, in a straight line. A linear program does not mind how pitch is
/// shared out over a turn: after a loud place it goes on swinging for ever, to use up the room left over at some angles.
/// Where the demand stays steady that is worth nothing any more, and the pitch comes to rest.
double PitchPlanner::optimised_um(const DemandAhead& demand, const PitchAim& aim) noexcept {
    noteSteady(demand.spacing_um.front());
    if (sectorsToTarget == 0)
        beginPlan(demand, aim);
    return now.command_um + (target_um - now.command_um) / sectorsToTarget--;
}

/// The last plan is followed from here, and the next one begun.
void PitchPlanner::beginPlan(const DemandAhead& demand, const PitchAim& aim) noexcept {
    target_um = optimiser().finish();
    if (staysSteady(demand))
        target_um = std::max(target_um, steady_um);
    sectorsToTarget = optimiser().sectorsPerPlan();
    auto looked = demand;
    if (!demand.outlook_um.empty())
        looked.spacing_um = demand.outlook_um;
    const auto next = optimiserFor(demand.told);
    if (next != active)
        optimisers[next].goOnFrom(optimisers[active]);
    active = next;
    const auto reach_um = setup.pitch.slew_um_s * setup.sector_s() * sectorsToTarget;
    const auto next_um = std::clamp(target_um, now.command_um - reach_um, now.command_um + reach_um);
    optimiser().begin(withSag(looked, aim, planned), boundary, now, next_um);
}

PitchStep PitchPlanner::step(const DemandAhead& demand, const PitchAim& aim) noexcept {
    aimed = aim;
    optimiser().endSector(positions_um);
    if (!aim.optimise) {
        optimiser().leave();
        sectorsToTarget = 0;
    }
    const auto wish_um = aim.optimise ? optimised_um(demand, aim) : aim.wish_um;
    auto heeded = withSag(demand, aim, floor);
    if (!aim.heedDemand)
        heeded.spacing_um = {};
    const auto slewTop_um = now.command_um + setup.pitch.slew_um_s * setup.sector_s();
    const auto top_um = std::min(now.command_um + aim.slewUp_um_s * setup.sector_s(), aim.greatest_um);
    const auto bottom_um = now.command_um - aim.slewDown_um_s * setup.sector_s();
    auto least_um = floor_um(heeded);
    const auto reachable_um = std::max(bottom_um, std::min(slewTop_um, top_um));
    if (least_um <= reachable_um)
        least_um = cappedFloor_um(heeded, least_um, reachable_um);
    const auto wanted_um = std::max(least_um, wish_um);
    const auto command_um = std::max(bottom_um, std::min(top_um, wanted_um));

    const auto shortfall_um = least_um >= reachable_um ? worstShortfall_um(heeded, command_um) : 0.0;
    advance(command_um);
    return {command_um, now.axis_um, shortfall_um};
}

void PitchPlanner::advance(double command_um) noexcept {
    const auto next = model.after(now, command_um);
    positions_um[boundary + 1] = positions_um[boundary] + model.integral(now, next) / setup.turn_s;
    bulges_um[boundary] = model.integralAbove_um_s(now, next) / setup.turn_s;
    lastSag_um =
        model.integralBelow_um_s(now, next) / setup.turn_s + bulges_um[boundary - setup.sectorsPerTurn];
    ++boundary;
    now = next;
}

/// The command for the j-th boundary ahead, from the one before it.
double PitchPlanner::wishAhead_um(int j, double command_um) const noexcept {
    const auto since = optimiser().sectorsPerPlan() - sectorsToTarget;
    const auto wish_um = !aimed.optimise ? aimed.wish_um
                         : j <= sectorsToTarget
                             ? now.command_um + (target_um - now.command_um) * j / sectorsToTarget
                             : optimiser().planned_um(since + j);
    return std::clamp(wish_um, command_um - aimed.slewDown_um_s * setup.sector_s(),
                      command_um + aimed.slewUp_um_s * setup.sector_s());
}

void PitchPlanner::foresee(std::span<double> pitch_um, std::span<double> spacing_um) noexcept {
    const auto turn = setup.sectorsPerTurn;
    const auto count = static_cast<int>(std::min({pitch_um.size(), spacing_um.size(), ahead_um.size() - 1}));
    ahead_um.front() = positions_um[boundary];
    auto state = now;
    for (int j = 1; j <= count; ++j) {
        const auto at = static_cast<std::size_t>(j);
        const auto next = model.after(state, wishAhead_um(j, state.command_um));
        ahead_um[at] = ahead_um[at - 1] + model.integral(state, next) / setup.turn_s;
        state = next;
        pitch_um[at - 1] = state.axis_um;
        spacing_um[at - 1] =
            ahead_um[at]
            - (j > turn ? ahead_um[at - static_cast<std::size_t>(turn)] : positions_um[boundary + j - turn]);
    }
}

} // namespace headland::plan
