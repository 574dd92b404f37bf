// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/PitchPlanner.h"

#include <algorithm>
#include <cmath>

namespace headland::plan {

PitchPlanner::PitchPlanner(const PlanSetup& s, int horizon)
    : setup(s),
      floorHorizon(static_cast<std::size_t>(std::max(s.sectorsPerTurn, horizon - s.sectorsPerTurn))),
      optimiser(s, horizon),
      model(s.sector_s(), s.pitch.lag_s),
      rising(s.sector_s(), s.pitch.lag_s, s.pitch.slew_um_s, horizon),
      positions_um(s.sectorsPerTurn + 2),
      ahead_um(static_cast<std::size_t>(horizon) + 1) {}

void PitchPlanner::start(double pitch_um, std::int64_t atBoundary) noexcept {
    boundary = atBoundary;
    positions_um[boundary] = 0;
    now = {pitch_um, pitch_um};
    optimiser.start();
    sectorsToTarget = 0;
    aimed = {};
    aimed.wish_um = pitch_um;
    steady_um = nothingYet_um;
    steadySectors = 0;
}

/// Distance still to go to the j-th boundary ahead, at most one turn away, µm.
double PitchPlanner::need_um(int j, double spacing_um) const noexcept {
    return positions_um[boundary + j - setup.sectorsPerTurn] + spacing_um - positions_um[boundary];
}

/// Least pitch from which full slew without end would meet every demand.
double PitchPlanner::floor_um(std::span<const double> spacing_um) const noexcept {
    const auto turn = setup.sectorsPerTurn;
    const auto count = static_cast<int>(spacing_um.size());
    auto least_um = 0.0;
    for (int j = 1; j <= std::min(turn, count); ++j) {
        const auto need = need_um(j, spacing_um[static_cast<std::size_t>(j) - 1]);
        const auto& run = rising.integral(j);
        least_um = std::max(least_um, (need * setup.turn_s - run.rest(now)) / run.v1);
    }
    for (int j = turn + 1; j <= count; ++j) { // the turn before lies ahead as well
        const auto& run = rising.integral(j);
        const auto& before = rising.integral(j - turn);
        const auto spacing = spacing_um[static_cast<std::size_t>(j) - 1];
        least_um = std::max(least_um, (spacing * setup.turn_s - run.rest(now) + before.rest(now))
                                          / (run.v1 - before.v1));
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
    const auto sinceLimit_s = excess_um / setup.pitch.slew_um_s;
    const auto untilLimit_s = setup.sector_s() * (j - 1) - sinceLimit_s;
    const auto ramp_um = setup.pitch.slew_um_s * setup.pitch.lag_s;
    const auto lead_um = pitch_um - model.after(now, pitch_um).axis_um;
    const auto leadAtLimit_um = ramp_um + (lead_um - ramp_um) * std::exp(-untilLimit_s / setup.pitch.lag_s);
    const auto axis_um =
        setup.pitch.greatest_um - leadAtLimit_um * std::exp(-sinceLimit_s / setup.pitch.lag_s);
    return atLeast_um_s + setup.pitch.lag_s * (rising.axis(j).at(pitch_um, now) - axis_um);
}

/// How far the demand on the j-th boundary is missed when the pitch goes to `pitch_um` and on as above.
double PitchPlanner::shortfallAt_um(int j, double spacing_um, double pitch_um) const noexcept {
    const auto run_um_s = cappedRun_um_s(j, pitch_um);
    if (j <= setup.sectorsPerTurn)
        return need_um(j, spacing_um) - run_um_s / setup.turn_s;
    return spacing_um - (run_um_s - cappedRun_um_s(j - setup.sectorsPerTurn, pitch_um)) / setup.turn_s;
}

/// The same as cappedRun_um_s() but for what the limit takes from a lagging carriage later than from its command: too
/// little, and by the more the further ahead.
double PitchPlanner::cappedRunAtLeast_um_s(int j, double pitch_um) const noexcept {
    const auto excess_um = std::max(0.0, pastLimit_um(j, pitch_um));
    return rising.integral(j).at(pitch_um, now) - excess_um * excess_um / (2 * setup.pitch.slew_um_s);
}

/// A cheap reason why the demand cannot be missed: even if the carriage took the limit's whole excess off at once.
bool PitchPlanner::surelyMet(int j, double spacing_um, double pitch_um) const noexcept {
    const auto atLeast_um_s = cappedRunAtLeast_um_s(j, pitch_um);
    if (j <= setup.sectorsPerTurn)
        return atLeast_um_s >= need_um(j, spacing_um) * setup.turn_s;
    return atLeast_um_s - cappedRunAtLeast_um_s(j - setup.sectorsPerTurn, pitch_um)
           >= spacing_um * setup.turn_s;
}

/// Raises `pitch_um` as far as the pitch limit makes necessary, up to `greatest_um`.
double PitchPlanner::cappedFloor_um(std::span<const double> spacing_um, double pitch_um,
                                    double greatest_um) const noexcept {
    constexpr int halvings = 24;
    const auto rise_um = setup.pitch.slew_um_s * setup.sector_s();
    for (int j = 1; j <= static_cast<int>(spacing_um.size()); ++j) {
        if (pitch_um + rise_um * (j - 1) <= setup.pitch.greatest_um)
            continue;
        const auto spacing = spacing_um[static_cast<std::size_t>(j) - 1];
        if (pitch_um >= greatest_um || surelyMet(j, spacing, pitch_um)
            || shortfallAt_um(j, spacing, pitch_um) <= 0)
            continue;
        auto low = pitch_um, high = greatest_um;
        for (int i = 0; i < halvings; ++i) {
            const auto middle = (low + high) / 2;
            (shortfallAt_um(j, spacing, middle) > 0 ? low : high) = middle;
        }
        pitch_um = high;
    }
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
    const auto known_um = demand.spacing_um.first(static_cast<std::size_t>(demand.known));
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
double PitchPlanner::optimised_um(const DemandAhead& demand) noexcept {
    noteSteady(demand.spacing_um.front());
    if (sectorsToTarget == 0) {
        target_um = optimiser.solve(demand, positions_um, boundary, now);
        if (staysSteady(demand))
            target_um = std::max(target_um, steady_um);
        sectorsToTarget = optimiser.sectorsPerPlan();
    }
    return now.command_um + (target_um - now.command_um) / sectorsToTarget--;
}

PitchStep PitchPlanner::step(const DemandAhead& demand, const PitchAim& aim) noexcept {
    aimed = aim;
    const auto wish_um = aim.optimise ? optimised_um(demand) : aim.wish_um;
    const auto spacing_um =
        aim.heedDemand ? demand.spacing_um.first(floorHorizon) : std::span<const double>{};
    const auto slewTop_um = now.command_um + setup.pitch.slew_um_s * setup.sector_s();
    const auto top_um = std::min(now.command_um + aim.slewUp_um_s * setup.sector_s(), aim.greatest_um);
    const auto bottom_um = now.command_um - aim.slewDown_um_s * setup.sector_s();
    auto floor = floor_um(spacing_um);
    const auto reachable_um = std::max(bottom_um, std::min(slewTop_um, aim.greatest_um));
    if (floor <= reachable_um)
        floor = cappedFloor_um(spacing_um, floor, reachable_um);
    const auto wanted_um = std::max({floor, wish_um});
    const auto command_um = std::max(bottom_um, std::min(top_um, wanted_um));

    auto shortfall_um = 0.0;
    if (floor >= reachable_um)
        for (std::size_t i = 0; i < spacing_um.size(); ++i)
            shortfall_um =
                std::max(shortfall_um, shortfallAt_um(static_cast<int>(i) + 1, spacing_um[i], command_um));

    const auto next = model.after(now, command_um);
    positions_um[boundary + 1] = positions_um[boundary] + model.integral(now, next) / setup.turn_s;
    ++boundary;
    now = next;
    return {command_um, next.axis_um, shortfall_um};
}

/// The command for the j-th boundary ahead, from the one before it.
double PitchPlanner::wishAhead_um(int j, double command_um) const noexcept {
    const auto since = optimiser.sectorsPerPlan() - sectorsToTarget;
    const auto wish_um = !aimed.optimise ? aimed.wish_um
                         : j <= sectorsToTarget
                             ? now.command_um + (target_um - now.command_um) * j / sectorsToTarget
                             : optimiser.planned_um(since + j);
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
