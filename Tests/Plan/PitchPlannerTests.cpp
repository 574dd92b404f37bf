// SPDX-License-Identifier: GPL-3.0-or-later
// The hard floor: every spacing met that can be, limits and slew kept, and not a sector earlier than needed.
#include "Plan/PitchPlanner.h"
#include "Tests/Support/Random.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

using namespace headland;

namespace {

constexpr int turn = 64;
constexpr double slew_um_s = 400;
constexpr double least_um = 50, greatest_um = 400;
constexpr auto nothing = -std::numeric_limits<double>::infinity();

plan::PlanSetup setupWith(double lag_s, int previewTurns = 1) {
    plan::PlanSetup s{};
    s.turn_s = 1.8;
    s.sectorsPerTurn = turn;
    s.binsPerSector = 1;
    s.previewSectors = turn * previewTurns;
    s.pitch = {least_um, greatest_um, slew_um_s, lag_s};
    return s;
}

constexpr plan::PitchAim program{true, false, least_um, greatest_um, slew_um_s, slew_um_s};

struct Run {
    std::vector<double> position_um{0}, command_um, axis_um, shortfall_um;
};

/// What a planner is told at boundary `k` of spacing demands by boundary: all up to `known` ahead, and for a turn more nothing, or
/// silence and what swing is typical.
plan::DemandAhead ahead(const std::vector<double>& demand, std::size_t k, int known, double typical_um = 0) {
    static thread_local std::vector<double> told;
    told.assign(static_cast<std::size_t>(known + turn), typical_um > 0 ? 62.0 : nothing);
    std::copy_n(demand.begin() + static_cast<std::ptrdiff_t>(k) + 1, known, told.begin());
    return {told, known, typical_um};
}

/// Runs the planner over spacing demands by boundary (demand[0] is boundary 0's), `known` boundaries ahead.
Run runPlanner(const plan::PlanSetup& setup, const std::vector<double>& demand, int known,
               const plan::PitchAim& aim = program, double typical_um = 0) {
    constexpr double start_um = 80;
    plan::PitchPlanner planner(setup, known + turn);
    planner.start(start_um);
    Run run;
    run.command_um.push_back(start_um);
    run.axis_um.push_back(start_um);
    for (std::size_t k = 0; k + static_cast<std::size_t>(known) < demand.size(); ++k) {
        const auto step = planner.step(ahead(demand, k, known, typical_um), aim);
        run.position_um.push_back(planner.position_um());
        run.command_um.push_back(step.command_um);
        run.axis_um.push_back(step.axis_um);
        run.shortfall_um.push_back(step.shortfall_um);
    }
    return run;
}

std::vector<double> randomDemand(unsigned seed, std::size_t count) {
    test::Random random(seed);
    std::vector<double> demand(count, 62.0);
    for (std::size_t i = 0; i < count;) {
        const auto length = static_cast<std::size_t>(random.between(1, 40));
        const auto level = random.unit() < 0.3 ? random.between(62, 250) : 62.0;
        for (std::size_t k = 0; k < length && i < count; ++k, ++i)
            demand[i] = level * random.between(0.9, 1.0);
    }
    std::fill_n(demand.begin(), turn, nothing);
    return demand;
}

void requireLimits(const Run& run) {
    const auto most_um = slew_um_s * 1.8 / turn * (1 + 1e-9);
    for (std::size_t k = 1; k < run.command_um.size(); ++k) {
        REQUIRE(std::abs(run.command_um[k] - run.command_um[k - 1]) <= most_um);
        REQUIRE(run.command_um[k] >= least_um);
        REQUIRE(run.command_um[k] <= greatest_um);
    }
}

} // namespace

TEST_CASE("Every spacing the planner did not call short is kept, within limits and slew", "[plan]") {
    for (const auto lag_s : {0.0, 0.05, 0.2})
        for (const auto turns : {1, 2})
            for (unsigned seed = 1; seed <= 6; ++seed) {
                const auto demand = randomDemand(seed, 40 * turn);
                const auto run = runPlanner(setupWith(lag_s, turns), demand, turns * turn);
                INFO("lag " << lag_s << ", preview " << turns << ", seed " << seed);
                requireLimits(run);
                const auto worstShort = *std::max_element(run.shortfall_um.begin(), run.shortfall_um.end());
                // A straight line into the pitch limit loses up to slew·sector²/8 against full slew up to it: 0.02 µm.
                REQUIRE(worstShort < 0.03);
                for (std::size_t b = turn; b < run.position_um.size(); ++b)
                    REQUIRE(run.position_um[b] - run.position_um[b - turn] >= demand[b] - 0.03);
            }
}

TEST_CASE("One stroke out of silence: the pitch opens at full slew, as late as still meets it", "[plan]") {
    for (const auto lag_s : {0.0, 0.05}) {
        std::vector<double> demand(12 * turn, 62.0);
        std::fill_n(demand.begin(), turn, nothing);
        const std::size_t stroke = 6 * turn;
        demand[stroke] = 150;
        const auto run = runPlanner(setupWith(lag_s), demand, turn);
        INFO("lag " << lag_s);
        // Met exactly: nothing was given away.
        REQUIRE(run.position_um[stroke] - run.position_um[stroke - turn] == Approx(150).margin(0.02));
        // The first opening sector is followed by nothing but full slew up to the peak, just before the stroke.
        const auto perSector_um = slew_um_s * 1.8 / turn;
        const auto opening = [&](std::size_t i) {
            return run.command_um[i] - run.command_um[i - 1] > perSector_um * 0.999;
        };
        auto b = stroke;
        while (!opening(b))
            --b;
        REQUIRE(stroke - b < 4); // the last sectors before it only settle
        while (opening(b))
            --b;
        REQUIRE(stroke - b > 10);
        // Waiting one sector longer at the same pitch would have missed it.
        plan::PitchPlanner late(setupWith(lag_s), 2 * turn);
        late.start(80);
        auto shortfall_um = 0.0;
        for (std::size_t k = 0; k < stroke; ++k) {
            const auto free = k >= b + 1;
            const plan::PitchAim forced{free,        false,     run.command_um[std::min(k + 1, b)],
                                        greatest_um, slew_um_s, slew_um_s};
            const auto step = late.step(ahead(demand, k, turn), forced);
            shortfall_um = std::max(shortfall_um, step.shortfall_um);
        }
        REQUIRE(shortfall_um > 0.1);
    }
}

TEST_CASE("A steady demand is held steadily, to the demand", "[plan]") {
    const std::vector<double> demand(2 * turn, 97.0);
    plan::PitchPlanner planner(setupWith(0.05), 2 * turn);
    planner.start(97);
    Run run;
    for (int k = 0; k < 18 * turn; ++k) {
        const plan::PitchAim aim{k >= turn,   k >= turn, k < turn ? 97 : least_um,
                                 greatest_um, slew_um_s, slew_um_s};
        run.command_um.push_back(planner.step({demand, turn, 0}, aim).command_um);
        run.position_um.push_back(planner.position_um());
    }
    for (auto b = run.command_um.size() - 2 * turn; b < run.command_um.size(); ++b) {
        REQUIRE(run.position_um[b] - run.position_um[b - turn] == Approx(97).margin(0.1));
        REQUIRE(std::abs(run.command_um[b] - run.command_um[b - 1]) < 0.5);
    }
}

TEST_CASE("A demand known too late is called short the moment it is known, with the amount it is missed by",
          "[plan]") {
    constexpr int known = turn / 4;
    std::vector<double> demand(8 * turn, 62.0);
    std::fill_n(demand.begin(), turn, nothing);
    const std::size_t stroke = 5 * turn;
    demand[stroke] = 250;
    const auto run = runPlanner(setupWith(0.05), demand, known);
    const auto firstKnown = stroke - known; // boundary at which the stroke first lies within what is known
    REQUIRE(run.shortfall_um[firstKnown - 1] == 0);
    REQUIRE(run.shortfall_um[firstKnown] > 50);
    const auto missed_um = 250 - (run.position_um[stroke] - run.position_um[stroke - turn]);
    REQUIRE(run.shortfall_um[firstKnown] == Approx(missed_um).margin(0.5));
    requireLimits(run);
}

TEST_CASE("The pitch limit is taken into account before it is reached", "[plan]") {
    // 330 µm over a turn from 80 µm: full slew meets the limit of 400 on the way.
    std::vector<double> demand(12 * turn, 62.0);
    std::fill_n(demand.begin(), turn, nothing);
    for (std::size_t b = 6 * turn; b < 7 * turn; ++b)
        demand[b] = 330;
    const auto run = runPlanner(setupWith(0.05, 2), demand, 2 * turn);
    requireLimits(run);
    REQUIRE(*std::max_element(run.command_um.begin(), run.command_um.end()) > 395);
    for (std::size_t b = 6 * turn; b < 7 * turn; ++b)
        REQUIRE(run.position_um[b] - run.position_um[b - turn] >= 330 - 0.05);
}

TEST_CASE("What the pitch limit will not let be met is said before it is missed, and by how much", "[plan]") {
    constexpr plan::PitchAim optimised{true, true, least_um, greatest_um, slew_um_s, slew_um_s};
    for (const auto& aim : {program, optimised})
        for (const auto lag_s : {0.0, 0.05}) {
            // A whole turn of nearly the greatest pitch, heard one turn ahead: without a limit full slew would make it.
            std::vector<double> demand(12 * turn, 62.0);
            std::fill_n(demand.begin(), turn, nothing);
            for (std::size_t b = 6 * turn; b < 7 * turn; ++b)
                demand[b] = 395;
            const auto run = runPlanner(setupWith(lag_s), demand, turn, aim);
            auto worst_um = 0.0;
            for (std::size_t b = 6 * turn; b < 7 * turn; ++b) {
                const auto missed_um = demand[b] - (run.position_um[b] - run.position_um[b - turn]);
                worst_um = std::max(worst_um, missed_um);
                INFO("lag " << lag_s << ", boundary " << b);
                REQUIRE(run.shortfall_um[b - 1] >= missed_um - 0.03);
            }
            REQUIRE(worst_um > 20);
            for (std::size_t k = 5 * turn; k < 6 * turn;
                 ++k) // all the time from the moment the first of it is known
                REQUIRE(run.shortfall_um[k] > 20);
            REQUIRE(run.shortfall_um[6 * turn - 1] >= worst_um - 0.03);
        }
}

TEST_CASE("Where no more is heard yet, the optimiser expects the program to go on swinging", "[plan]") {
    constexpr plan::PitchAim optimised{true, true, least_um, greatest_um, slew_um_s, slew_um_s};
    const auto demand = randomDemand(3, 40 * turn);
    const auto quiet = runPlanner(setupWith(0.05), demand, turn, optimised, 0.001);
    const auto loud = runPlanner(setupWith(0.05), demand, turn, optimised, 30);
    REQUIRE(loud.position_um.back() > 1.002 * quiet.position_um.back());
}

TEST_CASE("The optimiser keeps every spacing and spends less disc than the floor by itself", "[plan]") {
    constexpr plan::PitchAim optimised{true, true, least_um, greatest_um, slew_um_s, slew_um_s};
    for (const auto lag_s : {0.0, 0.05}) {
        auto floorUsed_um = 0.0, optimisedUsed_um = 0.0;
        for (unsigned seed = 1; seed <= 8; ++seed) {
            const auto demand = randomDemand(seed, 60 * turn);
            const auto floorRun = runPlanner(setupWith(lag_s), demand, turn);
            const auto run = runPlanner(setupWith(lag_s), demand, turn, optimised);
            INFO("lag " << lag_s << ", seed " << seed);
            requireLimits(run);
            REQUIRE(*std::max_element(run.shortfall_um.begin(), run.shortfall_um.end()) < 0.03);
            for (std::size_t b = turn; b < run.position_um.size(); ++b)
                REQUIRE(run.position_um[b] - run.position_um[b - turn] >= demand[b] - 0.03);
            floorUsed_um += floorRun.position_um.back();
            optimisedUsed_um += run.position_um.back();
        }
        REQUIRE(optimisedUsed_um < 0.95 * floorUsed_um);
    }
}

TEST_CASE("Where a plan is not finished the one before goes on, from the sector that has been reached",
          "[plan]") {
    plan::PitchOptimiser optimiser(setupWith(0), 2 * turn);
    plan::SectorRing<double> positions_um(2 * turn);
    std::vector<double> demand(2 * turn, 62.0);
    demand[turn + 30] = 200; // the pitch opens and closes again
    optimiser.begin({demand, 2 * turn, 0}, 0, {62, 62}, 62);
    for (int sector = 0; sector < optimiser.sectorsPerPlan(); ++sector)
        optimiser.endSector(positions_um);
    const auto first_um = optimiser.finish();
    optimiser.leave();
    std::vector<double> planned_um;
    for (int plans = 1; plans <= 40; ++plans)
        planned_um.push_back(optimiser.planned_um(plans * optimiser.sectorsPerPlan()));
    REQUIRE(first_um == planned_um[0]);
    REQUIRE(*std::max_element(planned_um.begin(), planned_um.end()) > first_um + 5);
    for (std::size_t plans = 1; plans < planned_um.size(); ++plans)
        REQUIRE(optimiser.finish() == Approx(planned_um[plans]));
}

TEST_CASE("A plan goes on in an optimiser that looks further ahead, or less far", "[plan]") {
    const auto setup = setupWith(0);
    plan::PitchOptimiser near(setup, 2 * turn), far(setup, 4 * turn), again(setup, 2 * turn);
    const plan::SectorRing<double> positions_um(2 * turn);
    std::vector<double> demand(2 * turn, 62.0);
    demand[turn + 30] = 200;
    near.begin({demand, 2 * turn, 0}, 0, {62, 62}, 62);
    for (int sector = 0; sector < near.sectorsPerPlan(); ++sector)
        near.endSector(positions_um);
    near.finish();
    far.goOnFrom(near);
    again.goOnFrom(far);
    REQUIRE(near.planned_um(turn + 20) > 70);
    for (int ahead = 8; ahead < 2 * turn; ahead += 8) { // where both have a pitch of their own
        INFO(ahead << " sectors ahead");
        CHECK(far.planned_um(ahead) == Approx(near.planned_um(ahead)));
        CHECK(again.planned_um(ahead) == Approx(near.planned_um(ahead)));
    }
}

TEST_CASE("A slow drive opens turns before a demand, as early as it has to", "[plan]") {
    constexpr double slow_um_s = 30; // from 62 to 250 µm in three and a half turns
    auto setup = setupWith(0, 5);
    setup.pitch.slew_um_s = slow_um_s;
    std::vector<double> demand(16 * turn, 62.0);
    std::fill_n(demand.begin(), turn, nothing);
    std::fill(demand.begin() + 8 * turn, demand.end(), 250.0);
    const auto run =
        runPlanner(setup, demand, 5 * turn, {true, false, least_um, greatest_um, slow_um_s, slow_um_s});
    for (std::size_t k = turn; k < run.position_um.size(); ++k) {
        INFO("boundary " << k);
        REQUIRE(run.shortfall_um[k - 1] < 1e-6);
        REQUIRE(run.position_um[k] - run.position_um[k - turn] >= demand[k] - 1e-6);
    }
    REQUIRE(run.command_um[4 * turn] < 80); // and no earlier
}

TEST_CASE("The pitch of a second cut knows nothing of the first", "[plan]") {
    constexpr std::int64_t second = 5 * turn;
    const auto setup = setupWith(0.1);
    std::vector<double> demand(8 * turn, 250.0);
    std::fill_n(demand.begin(), turn, nothing);
    plan::PitchPlanner used(setup, 2 * turn), fresh(setup, 2 * turn);
    used.start(greatest_um);
    auto closing = program;
    closing.slewDown_um_s = 30; // still closing where the second begins
    const std::vector<double> silence(7 * turn, nothing);
    for (std::size_t k = 0; k < second; ++k)
        used.step(ahead(silence, k, turn), closing);
    auto resting = program;
    resting.wish_um = 80;
    used.start(80, second);
    fresh.start(80, second);
    for (std::size_t k = 0; k + turn < demand.size(); ++k) {
        const auto told = ahead(demand, k, turn);
        REQUIRE(used.step(told, resting).command_um
                == Approx(fresh.step(told, resting).command_um).epsilon(1e-9));
    }
}
