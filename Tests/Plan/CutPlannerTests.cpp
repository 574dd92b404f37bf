// SPDX-License-Identifier: GPL-3.0-or-later
// From what the preview head hears to the spacing of turns: pairing of both edges at the same angle, guard, depth.
#include "Plan/CutPlanner.h"
#include "Tests/Support/Random.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <span>
#include <vector>

using namespace headland;

namespace {

constexpr int turn = 64;

plan::PlanSetup setup() {
    plan::PlanSetup s{};
    s.turn_s = 1.8;
    s.sectorsPerTurn = turn;
    s.binsPerSector = 1;
    s.platterBins = 2;
    s.previewSectors = turn;
    s.landMin_um = 12;
    s.widthMin_um = 30;
    s.depthBasic_um = 25;
    s.depth = {25, 60, 300, 0};
    s.pitch = {40, 400, 400, 0};
    return s;
}

constexpr plan::PitchAim program{true, false, 40, 400, 400, 400};

/// Demand of every sector, planned one turn behind what is heard.
std::vector<plan::SectorPlan> planAll(const std::vector<plan::SectorExtremes>& heard,
                                      const plan::PlanSetup& s = setup()) {
    plan::CutPlanner planner(s);
    planner.start(80);
    std::vector<plan::SectorPlan> plans;
    for (std::size_t k = 0; k < heard.size(); ++k) {
        planner.hear({&heard[k], 1});
        if (k >= turn)
            plans.push_back(planner.plan(program));
    }
    return plans;
}

} // namespace

TEST_CASE("Silence demands two half-widths and the land, and nothing on the first turn", "[plan]") {
    const auto plans = planAll(std::vector<plan::SectorExtremes>(6 * turn));
    for (std::size_t k = 0; k < plans.size(); ++k)
        if (k < turn)
            REQUIRE(plans[k].demand_um == -std::numeric_limits<double>::infinity());
        else
            REQUIRE(plans[k].demand_um == Approx(12 + 25 + 25));
}

TEST_CASE(
    "An outer swing is paired with the inner swing one turn before, wherever the platter may have put that",
    "[plan]") {
    std::vector<plan::SectorExtremes> heard(8 * turn);
    const std::size_t at = 3 * turn + 20;
    heard[at].inner_um = 40;
    heard[at + turn].outer_um = 30;
    const auto plans = planAll(heard);
    const auto demandAt = [&plans](std::size_t sector) { return plans[sector].demand_um - 62; };
    REQUIRE(demandAt(at) == Approx(0)); // an inner swing asks nothing of its own turn
    REQUIRE(demandAt(at + turn) == Approx(70));
    REQUIRE(demandAt(at + turn - 2) == Approx(40)); // the platter's tolerance, either side
    REQUIRE(demandAt(at + turn + 2) == Approx(40));
    REQUIRE(demandAt(at + turn - 3) == Approx(0));
    REQUIRE(demandAt(at + turn + 3) == Approx(0));
    REQUIRE(demandAt(at + 2 * turn) == Approx(0)); // an outer swing asks nothing of the next turn
}

TEST_CASE("The preview's tolerance moves the pair as a whole, and the depth's demand", "[plan]") {
    std::vector<plan::SectorExtremes> heard(8 * turn);
    const std::size_t at = 3 * turn + 20;
    heard[at].inner_um = 40;
    heard[at + turn].outer_um = 30;
    heard[at + 2 * turn].upward_um = 20; // depth 35 wanted
    auto s = setup();
    s.platterBins = 0;
    s.previewBins = 3;
    const auto plans = planAll(heard, s);
    for (const auto sector : {at + turn - 3, at + turn, at + turn + 3})
        REQUIRE(plans[sector].demand_um == Approx(62 + 70));
    for (const auto sector : {at + turn - 4, at + turn + 4})
        REQUIRE(plans[sector].demand_um == Approx(62));
    for (const auto sector : {at + 2 * turn - 3, at + 2 * turn + 3})
        REQUIRE(plans[sector].depth_um == Approx(35));
}

TEST_CASE(
    "Swings are paired in bins: in one sector but not at one angle they ask for the greater, not for the sum",
    "[plan]") {
    auto s = setup();
    s.binsPerSector = 4;
    s.platterBins = 0;
    std::vector<plan::SectorExtremes> bins(static_cast<std::size_t>(8 * turn * s.binsPerSector));
    const std::size_t at = 3 * turn + 20, each = 4, later = each * turn;
    bins[each * at + 1].inner_um = 40;
    bins[each * at + later + 2].outer_um = 30; // the next bin
    bins[each * (at + 5) + 1].inner_um = 40;
    bins[each * (at + 5) + later + 1].outer_um = 30;
    plan::CutPlanner planner(s);
    planner.start(80);
    std::vector<double> demand_um;
    for (std::size_t k = 0; k < bins.size() / each; ++k) {
        planner.hear(std::span(bins).subspan(k * each, each));
        if (k >= turn)
            demand_um.push_back(planner.plan(program).demand_um);
    }
    REQUIRE(demand_um[at + turn] == Approx(62 + 40));
    REQUIRE(demand_um[at + turn + 5] == Approx(62 + 70));
}

TEST_CASE("What is planned does not depend on how much of the work was done between the sectors", "[plan]") {
    auto s = setup();
    s.binsPerSector = 4;
    const plan::PitchAim optimised{true, true, 40, 400, 400, 400};
    const auto run = [&](int shares) {
        test::Random random(9);
        plan::CutPlanner planner(s);
        planner.start(80);
        std::vector<double> pitch_um;
        for (int k = 0; k < 12 * turn; ++k) {
            std::vector<plan::SectorExtremes> bins(4);
            for (auto& bin : bins)
                bin = {random.between(0, 60), random.between(0, 60), random.between(0, 20)};
            planner.hear(bins);
            if (k >= turn)
                pitch_um.push_back(planner.plan(optimised).pitch_um);
            for (int i = 0; i < (shares < 0 ? k % 7 : shares); ++i)
                planner.work();
        }
        return pitch_um;
    };
    const auto atOnce = run(0);
    REQUIRE(*std::max_element(atOnce.begin(), atOnce.end()) > 120);
    REQUIRE(run(4) == atOnce);
    REQUIRE(run(-1) == atOnce);
}

TEST_CASE("A swing away from the neighbour gives room: loud turns nest", "[plan]") {
    std::vector<plan::SectorExtremes> heard(8 * turn);
    for (std::size_t k = 4 * turn; k < heard.size(); ++k)
        heard[k] = {60, -55, 0}; // both edges outwards all the time
    const auto plans = planAll(heard);
    REQUIRE(plans[6 * turn].demand_um == Approx(62 + 5));
}

TEST_CASE("A lift of the stylus asks for depth, and the depth for spacing on both turns", "[plan]") {
    std::vector<plan::SectorExtremes> heard(8 * turn);
    const std::size_t at = 4 * turn;
    heard[at].upward_um = 20; // depth 35 wanted, 10 above basic
    const auto plans = planAll(heard);
    REQUIRE(plans[at].depth_um == Approx(35));
    REQUIRE(plans[at].demand_um == Approx(72));
    REQUIRE(plans[at + turn].demand_um == Approx(72));
    REQUIRE(plans[at + 2 * turn].demand_um == Approx(62));
}

TEST_CASE("Demands beyond the lathe's limits are called so", "[plan]") {
    std::vector<plan::SectorExtremes> heard(8 * turn);
    heard[4 * turn].outer_um = 600;
    heard[5 * turn].upward_um = 70;
    const auto plans = planAll(heard);
    REQUIRE(plans[4 * turn].limited);
    REQUIRE(plans[5 * turn].limited);
    REQUIRE_FALSE(plans[4 * turn + 10].limited);
}

TEST_CASE("What is foreseen of several sectors in one step is the widest of each edge", "[plan][foresight]") {
    auto s = setup();
    s.previewSectors = 10 * turn; // more than Foresight has steps
    plan::CutPlanner planner(s);
    planner.start(80);
    for (int k = 0; k < s.previewSectors; ++k) {
        plan::SectorExtremes heard{};
        heard.outer_um = k;
        heard.inner_um = 1000 - k;
        planner.hear({&heard, 1});
    }
    plan::Foresight coming;
    planner.foreseeHeard(coming, 0);
    REQUIRE(coming.step_s == Approx(2 * s.sector_s()));
    REQUIRE(coming.count == 5 * turn);
    for (std::size_t step = 0; step < coming.count; ++step) {
        REQUIRE(coming.all[step].outerSwing_um == Approx(2 * step + 1));
        REQUIRE(coming.all[step].innerSwing_um == Approx(1000 - 2 * step));
    }
}

TEST_CASE("Of the first turn no spacing is foreseen to be demanded, of the next that of silence",
          "[plan][foresight]") {
    plan::CutPlanner planner(setup());
    planner.start(80);
    constexpr std::size_t planned = 10;
    for (std::size_t k = 0; k < turn + planned; ++k) {
        planner.hear(std::vector<plan::SectorExtremes>(1));
        if (k >= turn)
            planner.plan(program);
    }
    plan::Foresight coming;
    planner.foresee(coming);
    REQUIRE(coming.count == turn);
    for (std::size_t step = 0; step < turn; ++step) {
        REQUIRE(std::isfinite(coming.all[step].madeSpacing_um));
        if (planned + step < turn)
            REQUIRE(coming.all[step].spacing_um == -std::numeric_limits<float>::infinity());
        else
            REQUIRE(coming.all[step].spacing_um == Approx(62));
    }
}

TEST_CASE("A depth that has been commanded stays, however late a lift of the stylus is heard", "[plan]") {
    auto s = setup();
    s.previewBins = 3;
    s.depth = {25, 60, 10, 0}; // slower than the preview is long
    std::vector<plan::SectorExtremes> heard(6 * turn);
    heard[3 * turn].upward_um = 40;
    const auto plans = planAll(heard, s);
    const auto most_um = s.depth.slew_um_s * s.sector_s() * (1 + 1e-9);
    auto previous_um = s.depthBasic_um;
    for (const auto& each : plans) {
        REQUIRE(std::abs(each.depth_um - previous_um) <= most_um);
        previous_um = each.depth_um;
    }
    CHECK(std::any_of(plans.begin(), plans.end(), [](const auto& each) { return each.shortfall_um > 1; }));
}
