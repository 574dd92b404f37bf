// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/PitchOptimiser.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace headland::plan {

namespace {

constexpr int plansPerTurn = 32;
constexpr int mostExchanges = 90;    ///< bounds the time of one solution; usual are 20 to 60
constexpr double missingCost = 1000; ///< of a spacing missed by a µm of pitch, against µm of mean position
constexpr double expectedPart = 0.6; ///< of the last turn's outer swing expected past the preview; by trial
constexpr double soonPart = 0.2;     ///< weight of a turn before the last against the last; by trial
constexpr int mostTurns = 5;         ///< looked ahead: four of preview and the one after
constexpr auto nothing = -std::numeric_limits<double>::infinity();

/// Steps from one node to the next, in 64ths of a turn.
int nodeStep(int at) {
    return at < 8 ? 2 : at < 24 ? 4 : at < 64 ? 8 : 16;
}

} // namespace

PitchOptimiser::PitchOptimiser(const PlanSetup& s, int demandHorizon)
    : setup(s), planStep(std::max(1, s.sectorsPerTurn / plansPerTurn)) {
    const auto horizon = std::min(demandHorizon, mostTurns * s.sectorsPerTurn);
    chooseNodes(horizon);
    chooseStretches(horizon);
    respond(horizon);
    program = DualSimplex(stretches.size() + 3 * nodes.size(), nodes.size());
    for (std::size_t r = 0; r < stretches.size(); ++r)
        program.priceOf(r) = missingCost; // so that there always is a solution
    plan_um.resize(nodes.size());
    start();
}

void PitchOptimiser::start() noexcept {
    std::fill(plan_um.begin(), plan_um.end(), setup.pitch.least_um);
    planAge = 0;
}

void PitchOptimiser::chooseNodes(int horizon) {
    for (int at = 2;; at += nodeStep(at)) {
        const auto sectors = std::max(planStep, at * setup.sectorsPerTurn / 64);
        if (sectors >= horizon)
            break;
        if (nodes.empty() || sectors > nodes.back())
            nodes.push_back(sectors);
    }
    nodes.push_back(horizon);
}

/// Thirty-two a turn for the first turn, half as many after it.
void PitchOptimiser::chooseStretches(int horizon) {
    for (int first = 1; first <= horizon;) {
        const auto length = first <= setup.sectorsPerTurn ? planStep : 2 * planStep;
        auto last = std::min(first + length - 1, horizon);
        if (first <= setup.sectorsPerTurn)
            last = std::min(
                last, setup.sectorsPerTurn); // a stretch's previous turn lies in the past or ahead, not both
        stretches.push_back({first, last});
        first = last + 1;
    }
}

/// What each node's pitch does to the travel everywhere ahead, by running the axis model sector by sector.
void PitchOptimiser::respond(int horizon) {
    const RampModel model(setup.sector_s(), setup.pitch.lag_s);
    const auto positions = [&](AxisState state, auto commandAt) {
        std::vector<double> position{0};
        for (int at = 1; at <= horizon; ++at) {
            const auto next = model.after(state, commandAt(at));
            position.push_back(position.back() + model.integral(state, next) / setup.turn_s);
            state = next;
        }
        return position;
    };
    /// Straight lines: 1 at node n (−1: now), 0 at the others.
    const auto hat = [this](int n, int at) {
        const auto time = [this](int i) { return i < 0 ? 0 : nodes[static_cast<std::size_t>(i)]; };
        const auto isLast = n + 1 == static_cast<int>(nodes.size());
        const auto rising = n < 0 ? 1.0 : static_cast<double>(at - time(n - 1)) / (time(n) - time(n - 1));
        const auto falling = isLast ? 1.0 : static_cast<double>(time(n + 1) - at) / (time(n + 1) - time(n));
        return std::clamp(std::min(rising, falling), 0.0, 1.0);
    };
    const auto travel = [this](const std::vector<double>& position, int j) {
        const auto before = j - setup.sectorsPerTurn;
        const auto at = [&position](int b) { return position[static_cast<std::size_t>(b)]; };
        return at(j) - (before > 0 ? at(before) : 0.0);
    };

    travels.assign(static_cast<std::size_t>(horizon) + 1, {0, 0, 0, 1});
    rowTable.assign(travels.size() * nodes.size(), 0.0);
    for (std::size_t n = 0; n < nodes.size(); ++n) {
        const auto position = positions({0, 0}, [&](int at) { return hat(static_cast<int>(n), at); });
        for (int j = 1; j <= horizon; ++j)
            rowOf(j)[n] = travel(position, j);
        auto sum = 0.0;
        for (int at = horizon - setup.sectorsPerTurn + 1; at <= horizon; ++at)
            sum += position[static_cast<std::size_t>(at)];
        for (int at = 1; at <= horizon - setup.sectorsPerTurn; ++at)
            sum += soonPart * position[static_cast<std::size_t>(at)];
        costTable.push_back(sum / setup.sectorsPerTurn);
    }
    const auto fromCommand = positions({1, 0}, [&](int at) { return hat(-1, at); });
    const auto fromAxis = positions({0, 1}, [](int) { return 0.0; });
    for (int j = 1; j <= horizon; ++j) {
        auto row = rowOf(j);
        const auto atLeast_um = setup.pitch.least_um * std::accumulate(row.begin(), row.end(), 0.0);
        const auto scale = 1 / *std::max_element(row.begin(), row.end());
        travels[static_cast<std::size_t>(j)] = {travel(fromCommand, j), travel(fromAxis, j), atLeast_um,
                                                scale};
        for (auto& coefficient : row)
            coefficient *= scale;
    }
}

std::span<double> PitchOptimiser::rowOf(int j) noexcept {
    return {rowTable.data() + static_cast<std::size_t>(j) * nodes.size(), nodes.size()};
}

double PitchOptimiser::planned_um(double sectorsAhead) const noexcept {
    const auto at = sectorsAhead + planAge;
    std::size_t n = 0;
    while (n + 1 < nodes.size() && nodes[n] < at)
        ++n;
    if (n == 0 || at >= nodes[n])
        return plan_um[n];
    const auto part = (at - nodes[n - 1]) / (nodes[n] - nodes[n - 1]);
    return plan_um[n - 1] + part * (plan_um[n] - plan_um[n - 1]);
}

/// Spacing demanded of the j-th boundary ahead, with what is to be expected past the preview.
double PitchOptimiser::spacing_um(int j, const DemandAhead& demand) const noexcept {
    const auto known_um = demand.spacing_um[static_cast<std::size_t>(j) - 1];
    if (j <= demand.known)
        return known_um;
    return std::min(known_um + expectedPart * demand.typicalOuter_um, setup.greatestSpacing_um());
}

/// The boundary of a stretch that asks most, as seen from the plan so far, and the travel it asks for: from now, or
/// from one turn before where that lies ahead.
PitchOptimiser::Demanded PitchOptimiser::mostDemanding(const Stretch& s, const DemandAhead& demand,
                                                       const SectorRing<double>& positions_um,
                                                       std::int64_t boundary) const noexcept {
    const auto inPast = s.last <= setup.sectorsPerTurn;
    const auto slope_um = inPast ? planned_um(s.last) / setup.sectorsPerTurn : 0.0;
    Demanded most{s.last, nothing};
    auto worst_um = nothing;
    for (int j = s.first; j <= s.last; ++j) {
        auto travel_um = spacing_um(j, demand);
        if (inPast)
            travel_um += positions_um[boundary + j - setup.sectorsPerTurn] - positions_um[boundary];
        const auto seen_um = travel_um + slope_um * (s.last - j);
        if (seen_um > worst_um) {
            worst_um = seen_um;
            most = {j, travel_um};
        }
    }
    return most;
}

void PitchOptimiser::setRows(const DemandAhead& demand, const SectorRing<double>& positions_um,
                             std::int64_t boundary, AxisState now) noexcept {
    for (std::size_t r = 0; r < stretches.size(); ++r) {
        const auto most = mostDemanding(stretches[r], demand, positions_um, boundary);
        const auto& t = travels[static_cast<std::size_t>(most.boundary)];
        const auto free_um = t.v0 * now.command_um + t.q0 * now.axis_um + t.constant;
        auto row = program.row(r);
        const auto table = rowOf(most.boundary);
        std::copy(table.begin(), table.end(), row.begin());
        program.leastOf(r) = t.scale * (most.travel_um - free_um);
    }
}

/// Slew up, slew down and the greatest pitch, for each node; the least pitch is the variables' zero.
void PitchOptimiser::setLimitRows(AxisState now) noexcept {
    auto r = stretches.size();
    const auto setRow = [&](std::size_t n, double own, double before, double least_um) {
        auto row = program.row(r);
        std::fill(row.begin(), row.end(), 0.0);
        row[n] = own;
        if (n > 0)
            row[n - 1] = before;
        program.leastOf(r++) = least_um;
    };
    const auto above_um = now.command_um - setup.pitch.least_um;
    const auto perSector_um = setup.pitch.slew_um_s * setup.sector_s();
    for (std::size_t n = 0; n < nodes.size(); ++n) {
        const auto most_um = perSector_um * (nodes[n] - (n > 0 ? nodes[n - 1] : 0));
        const auto start_um = n > 0 ? 0.0 : above_um;
        const auto greatest_um =
            std::max(setup.pitch.greatest_um - setup.pitch.least_um,
                     above_um - perSector_um * nodes[n]); // still closing from the lead-in
        setRow(n, 1, -1, start_um - most_um);
        setRow(n, -1, 1, -start_um - most_um);
        setRow(n, -1, 0, -greatest_um);
    }
}

double PitchOptimiser::solve(const DemandAhead& demand, const SectorRing<double>& positions_um,
                             std::int64_t boundary, AxisState now) noexcept {
    planAge += planStep;
    std::copy(costTable.begin(), costTable.end(), program.costs().begin());
    setRows(demand, positions_um, boundary, now);
    setLimitRows(now);
    if (program.solve(mostExchanges)) {
        for (std::size_t n = 0; n < nodes.size(); ++n)
            plan_um[n] = setup.pitch.least_um + program.solution()[n];
        planAge = 0;
    } // otherwise the last plan goes on; the floor keeps it safe
    return std::clamp(planned_um(planStep), setup.pitch.least_um, setup.pitch.greatest_um);
}

} // namespace headland::plan
