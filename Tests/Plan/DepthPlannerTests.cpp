// SPDX-License-Identifier: GPL-3.0-or-later
// Depth against the envelope's own definition, h_i = max_j(demand_j − slew·|t_i − t_j|), taken literally; and with a lagging
// depth drive, against the demand itself.
#include "Plan/DepthPlanner.h"
#include "Tests/Support/Random.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

using namespace headland;
using plan::DepthPlanner;

namespace {

constexpr int preview = 60;

plan::PlanSetup setupWith(double slew_um_s, double lag_s) {
    plan::PlanSetup s{};
    s.turn_s = 1.8;
    s.sectorsPerTurn = 256;
    s.binsPerSector = 1;
    s.previewSectors = preview;
    s.widthMin_um = 30;
    s.depthBasic_um = 25;
    s.depth = {25, 60, slew_um_s, lag_s};
    return s;
}

std::vector<double> randomLifts(unsigned seed, std::size_t count) {
    test::Random random(seed);
    std::vector<double> lifts(count, 0.0);
    for (std::size_t k = preview; k < count; ++k) // the stylus goes down in silence
        if (random.unit() < 0.06)
            lifts[k] = 42 * random.unit(); // up to 57 µm deep
    return lifts;
}

struct Planned {
    std::vector<plan::AxisState> states;
    double shortfall_um = 0;
};

/// Plans boundary after boundary with `preview` sectors known ahead.
Planned planAll(const plan::PlanSetup& setup, const std::vector<double>& lifts) {
    DepthPlanner planner(setup);
    Planned planned;
    planned.states.push_back(planner.at(0));
    for (std::size_t k = 0; k < lifts.size(); ++k) {
        planner.demand(lifts[k]);
        if (k + 1 < preview)
            continue;
        const auto boundary = static_cast<std::int64_t>(k + 2 - preview);
        planner.planTo(boundary);
        planned.states.push_back(planner.at(boundary));
        planned.shortfall_um = std::max(planned.shortfall_um, planner.shortfall_um());
    }
    return planned;
}

double boundaryDemand(const std::vector<double>& lifts, std::size_t b) {
    return std::max({25.0, 15 + lifts[b - 1], 15 + lifts[b]});
}

} // namespace

TEST_CASE("Without lag the depth is the slope-limited envelope of the demand and nothing more", "[plan]") {
    const auto setup = setupWith(300, 0);
    const auto lifts = randomLifts(11, 900);
    const auto planned = planAll(setup, lifts);
    const auto perSector_um = 300 * setup.sector_s();
    REQUIRE(planned.shortfall_um == 0);
    for (std::size_t b = 1; b < planned.states.size(); ++b) {
        auto envelope_um = 25.0;
        for (std::size_t j = 1; j + 1 < lifts.size(); ++j) {
            const auto distance = std::abs(static_cast<double>(b) - static_cast<double>(j));
            envelope_um = std::max(envelope_um, boundaryDemand(lifts, j) - perSector_um * distance);
        }
        INFO("boundary " << b);
        REQUIRE(planned.states[b].axis_um == Approx(envelope_um).margin(1e-9));
    }
}

TEST_CASE("With a lagging depth drive every demand is met, within slew and limit", "[plan]") {
    for (const auto lag_s : {0.005, 0.01, 0.03}) {
        const auto setup = setupWith(300, lag_s);
        const auto lifts = randomLifts(12, 1500);
        const auto planned = planAll(setup, lifts);
        const auto perSector_um = 300 * setup.sector_s();
        const auto reachable_um = 60 - 300 * lag_s * (1 - std::log(2.0));
        REQUIRE(planned.shortfall_um < 1e-9);
        auto deepest_um = 0.0;
        for (std::size_t b = 1; b < planned.states.size(); ++b) {
            INFO("lag " << lag_s << ", boundary " << b);
            REQUIRE(planned.states[b].axis_um >= std::min(boundaryDemand(lifts, b), reachable_um) - 1e-9);
            REQUIRE(planned.states[b].axis_um <= 60 + 1e-9);
            const auto change_um = planned.states[b].command_um - planned.states[b - 1].command_um;
            REQUIRE(std::abs(change_um) <= perSector_um * (1 + 1e-12));
            deepest_um = std::max(deepest_um, planned.states[b].axis_um);
        }
        REQUIRE(deepest_um > 50); // the demand was worth the test
    }
}

TEST_CASE("A demand the preview shows too late is reported as missed, by how much", "[plan]") {
    const auto setup = setupWith(50, 0); // 35 µm takes 0.7 s; the preview is 0.42 s
    std::vector<double> lifts(300, 0.0);
    lifts[200] = 40; // 55 µm wanted, 30 above the basic depth
    const auto planned = planAll(setup, lifts);
    const auto reached_um = planned.states[200].axis_um;
    REQUIRE(reached_um < 55);
    REQUIRE(planned.shortfall_um == Approx(55 - reached_um).margin(1e-9));
}

TEST_CASE("A demand beyond the greatest depth is said to be limited", "[plan]") {
    DepthPlanner planner(setupWith(300, 0));
    planner.demand(10);
    planner.demand(46);
    REQUIRE_FALSE(planner.limited(0));
    REQUIRE(planner.limited(1));
}

TEST_CASE("The stylus goes down at the basic depth, whatever was planned there before", "[plan]") {
    DepthPlanner planner(setupWith(300, 0.05));
    for (int sector = 0; sector < preview; ++sector)
        planner.demand(sector < preview / 2 ? 20.0 : 0.0);
    planner.planTo(preview / 2);
    REQUIRE(planner.at(preview / 2).axis_um > 30);
    planner.start(preview / 2);
    CHECK(planner.at(preview / 2).axis_um == 25);
    CHECK(planner.at(preview / 2).command_um == 25);
    CHECK(planner.at(0).axis_um == 25);
}

TEST_CASE("Falling from a deep place, the command of a lagging drive goes no lower than the next demand",
          "[plan]") {
    const auto setup = setupWith(300, 0.1);
    std::vector<double> lifts(6 * preview, 20.0); // 35 µm
    std::fill_n(lifts.begin(), preview, 0.0);     // the stylus goes down in silence
    std::fill_n(lifts.begin() + 2 * preview, 20, 40.0);
    const auto states = planAll(setup, lifts).states;
    auto deepest_um = 0.0;
    for (std::size_t b = 2 * preview; b < states.size(); ++b) {
        deepest_um = std::max(deepest_um, states[b].axis_um);
        REQUIRE(states[b].command_um >= 35 - 1e-9);
    }
    CHECK(deepest_um >= 55 - 1e-9);
    CHECK(states.back().command_um == Approx(35));
}

TEST_CASE("What there was no time to plan falls to the basic depth no faster than the drive", "[plan]") {
    auto setup = setupWith(10, 0);
    setup.previewSectors = 2000; // more demands than one sector's planning looks at
    DepthPlanner planner(setup);
    for (int sector = 0; sector < setup.previewSectors; ++sector)
        planner.demand(20);
    planner.planTo(1);
    const auto most_um = setup.depth.slew_um_s * setup.sector_s() * (1 + 1e-9);
    auto deepest_um = 0.0;
    for (int b = 1; b <= setup.previewSectors; ++b) {
        INFO("boundary " << b);
        deepest_um = std::max(deepest_um, planner.at(b).command_um);
        REQUIRE(planner.at(b).command_um >= planner.at(b - 1).command_um - most_um);
    }
    CHECK(deepest_um > 25.5);
    CHECK(planner.at(setup.previewSectors).command_um == 25);
}
