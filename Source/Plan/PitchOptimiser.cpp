// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/PitchOptimiser.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace headland::plan {

namespace {

constexpr int plansPerTurn = 32;
constexpr int exchangesPerPlan = 192; ///< bounds the time of one solution; usual are 40 to 120
constexpr double missingCost = 1000;  ///< of a spacing missed by a µm of pitch, against µm of mean position
constexpr double expectedPart =
    1.5;                     ///< of the last turn's mean outer swing, expected past the preview; by trial
constexpr int mostTurns = 5; ///< looked ahead: four of preview and the one after
constexpr double leastPrice = 0.002; ///< of travel: where a swing saves nothing the pitch comes to rest
constexpr auto nothing = -std::numeric_limits<double>::infinity();

/// Steps from one node to the next, in 64ths of a turn.
int nodeStep(int at) {
    return at < 8 ? 2 : at < 64 ? 4 : at < 128 ? 8 : 16;
}

} // namespace

PitchOptimiser::PitchOptimiser(const PlanSetup& s, int demandHorizon)
    : setup(s), planStep(std::max(1, s.sectorsPerTurn / plansPerTurn)) {
    setup.travelPrice = std::max(s.travelPrice, leastPrice);
    const auto horizon = std::min(demandHorizon, mostTurns * s.sectorsPerTurn);
    chooseNodes(horizon);
    chooseStretches(horizon);
    respond(horizon);
    constexpr std::size_t rowsOfFirst = 2, limitsOfOthers = 3;
    const auto others = nodes.size() - 1;
    program =
        DualSimplex(stretches.size() + nodes.size() + rowsOfFirst, nodes.size(), limitsOfOthers * others);
    for (std::size_t r = 0; r < stretches.size(); ++r)
        program.priceOf(r) = missingCost; // so that there always is a solution
    for (std::size_t n = 0; n < nodes.size(); ++n)
        program.priceOf(stretches.size() + n) = 2 * setup.travelPrice;
    plan_um.resize(nodes.size());
    start();
}

void PitchOptimiser::start() noexcept {
    std::fill(plan_um.begin(), plan_um.end(), setup.pitch.least_um);
    planAge = 0;
    isBegun = false;
}

void PitchOptimiser::goOnFrom(const PitchOptimiser& other) noexcept {
    planAge = 0;
    for (std::size_t n = 0; n < nodes.size(); ++n)
        plan_um[n] = other.planned_um(nodes[n]);
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

/// Thirty-two a turn for the first two turns, half as many after them.
void PitchOptimiser::chooseStretches(int horizon) {
    for (int first = 1; first <= horizon;) {
        const auto length = first <= 2 * setup.sectorsPerTurn ? planStep : 2 * planStep;
        auto last = std::min(first + length - 1, horizon);
        if (first <= setup.sectorsPerTurn)
            last = std::min(
                last, setup.sectorsPerTurn); // a stretch's previous turn lies in the past or ahead, not both
        stretches.push_back({first, last});
        first = last + 1;
    }
}

/// The sectors at the end of the horizon whose mean position is minimised. Of a short horizon all, or what is expected past the
/// preview would weigh too much; of a long one the last two turns, so that a place saved counts the same now and in three turns.
int PitchOptimiser::countedSectors(int horizon) const noexcept {
    return horizon <= 3 * setup.sectorsPerTurn ? horizon : 2 * setup.sectorsPerTurn;
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

    const auto counted = countedSectors(horizon);
    travels.assign(static_cast<std::size_t>(horizon) + 1, {0, 0, 0, 1}); // to here: none
    rowTable.assign(travels.size() * nodes.size(), 0.0);
    for (std::size_t n = 0; n < nodes.size(); ++n) {
        const auto position = positions({0, 0}, [&](int at) { return hat(static_cast<int>(n), at); });
        for (int j = 1; j <= horizon; ++j)
            rowOf(j)[n] = travel(position, j);
        const auto sum = std::accumulate(position.end() - counted, position.end(), 0.0);
        costTable.push_back(sum / counted * horizon / setup.sectorsPerTurn);
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

/// Swing that is expected past the preview.
double PitchOptimiser::expected_um(const DemandAhead& demand) const noexcept {
    return expectedPart * demand.typicalOuter_um;
}

/// The place of a stretch that asks most, as seen from the plan so far, and the travel it asks for: from now, or
/// from one turn before where that lies ahead.
PitchOptimiser::Demanded
PitchOptimiser::mostDemanding(const Stretch& s, const SectorRing<double>& positions_um) const noexcept {
    const auto& demand = asked;
    const auto inPast = s.last <= setup.sectorsPerTurn;
    const auto slope_um = inPast ? planned_um(s.last) / setup.sectorsPerTurn : 0.0;
    Demanded most{s.last, 1, nothing};
    auto worst_um = nothing;
    for (int j = s.first; j <= s.last; ++j) {
        const auto expected = j > std::max(demand.known, demand.told) ? expected_um(demand) : 0.0;
        const auto before = boundary + j - setup.sectorsPerTurn;
        const auto from_um = inPast ? positions_um[before - 1] - positions_um[boundary] : 0.0;
        const auto to_um = inPast ? positions_um[before] - positions_um[boundary] : 0.0;
        const auto most_um = demand.spacing_um[static_cast<std::size_t>(j) - 1] + expected;
        if (std::min(most_um, setup.greatestSpacing_um()) + to_um + slope_um * (s.last - j + 1) <= worst_um)
            continue;
        const auto heed = [&](double part, double spacing_um) {
            const auto travel_um = std::min(spacing_um + expected, setup.greatestSpacing_um()) + from_um
                                   + part * (to_um - from_um);
            const auto seen_um = travel_um + slope_um * (s.last - j + 1 - part);
            if (seen_um > worst_um) {
                worst_um = seen_um;
                most = {j, part, travel_um};
            }
        };
        if (j > demand.known) // expected, at no place in particular
            heed(1, demand.spacing_um[static_cast<std::size_t>(j) - 1]);
        else
            demand.eachPlace(j, heed);
    }
    return most;
}

/// Between two boundaries travel is straight.
void PitchOptimiser::setRow(std::size_t r, const Demanded& most) noexcept {
    auto row = program.row(r);
    const auto& end = travels[static_cast<std::size_t>(most.sector)];
    const auto& begin = travels[static_cast<std::size_t>(most.sector) - 1];
    const auto beginPart = (1 - most.part) * end.scale / begin.scale;
    const auto endRow = rowOf(most.sector), beginRow = rowOf(most.sector - 1);
    for (std::size_t n = 0; n < row.size(); ++n)
        row[n] = most.part * endRow[n] + beginPart * beginRow[n];
    const auto free_um = [&](const Travel& t) {
        return t.v0 * now.command_um + t.q0 * now.axis_um + t.constant;
    };
    program.leastOf(r) =
        end.scale * (most.travel_um - most.part * free_um(end) - (1 - most.part) * free_um(begin));
}

/// Chooses the rows up to one.
void PitchOptimiser::setRows(std::size_t end, const SectorRing<double>& positions_um) noexcept {
    for (; rows < end; ++rows)
        setRow(rows, mostDemanding(stretches[rows], positions_um));
}

/// What the pitch changes by between nodes costs its price, up or down: closing is missing a row, and opening is in the costs.
/// The first node is where the pitch goes anyway, while this is solved.
void PitchOptimiser::setOwnRows(double next_um) noexcept {
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
    for (std::size_t n = 0; n < nodes.size(); ++n)
        setRow(n, 1, -1, n > 0 ? 0.0 : above_um);
    setRow(0, 1, 0, next_um - setup.pitch.least_um);
    setRow(0, -1, 0, setup.pitch.least_um - next_um);
}

/// Slew up, slew down and the greatest pitch, for each node after the first; the least pitch is the variables' zero.
void PitchOptimiser::setLimits() noexcept {
    const auto above_um = now.command_um - setup.pitch.least_um;
    const auto perSector_um = setup.pitch.slew_um_s * setup.sector_s();
    auto limit = program.limits().begin();
    for (std::size_t n = 1; n < nodes.size(); ++n) {
        const auto most_um = perSector_um * (nodes[n] - nodes[n - 1]);
        const auto greatest_um =
            std::max(setup.pitch.greatest_um - setup.pitch.least_um,
                     above_um - perSector_um * nodes[n]); // still closing from the lead-in
        *limit++ = {n, n - 1, -most_um};
        *limit++ = {n - 1, n, -most_um};
        *limit++ = {DualSimplex::none, n, -greatest_um};
    }
}

void PitchOptimiser::begin(const DemandAhead& demand, std::int64_t from, AxisState state,
                           double next_um) noexcept {
    asked = demand;
    boundary = from;
    now = state;
    shares = 0;
    sharesDue = sharesPerSector();
    rows = 0;
    std::copy(costTable.begin(), costTable.end(), program.costs().begin());
    program.costs().back() += setup.travelPrice; // the sum of all openings, less that of all closings
    setOwnRows(next_um);
    setLimits();
    isBegun = true;
}

/// First rows are chosen, then exchanges are made.
void PitchOptimiser::work(const SectorRing<double>& positions_um) noexcept {
    if (!isBegun || shares == sharesDue)
        return;
    ++shares;
    const auto left = sharesOfRows() - shares;
    if (left >= 0)
        setRows(stretches.size() * static_cast<std::size_t>(shares)
                    / static_cast<std::size_t>(sharesOfRows()),
                positions_um);
    if (left == 0)
        program.begin();
    if (left < 0)
        program.proceed((exchangesPerPlan + sharesOfExchanges() - 1) / sharesOfExchanges());
}

void PitchOptimiser::endSector(const SectorRing<double>& positions_um) noexcept {
    while (isBegun && shares < sharesDue)
        work(positions_um);
    sharesDue += sharesPerSector();
}

double PitchOptimiser::finish() noexcept {
    planAge += planStep;
    if (isBegun && rows == stretches.size() && program.isSolved()) {
        for (std::size_t n = 0; n < nodes.size(); ++n)
            plan_um[n] = setup.pitch.least_um + program.solution()[n];
        planAge = planStep;
    } // otherwise the last plan goes on; the floor keeps it safe
    return std::clamp(planned_um(planStep), setup.pitch.least_um, setup.pitch.greatest_um);
}

} // namespace headland::plan
