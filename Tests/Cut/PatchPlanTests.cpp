// SPDX-License-Identifier: GPL-3.0-or-later
// The measures of a patch against closed forms: plain grooves, turns that nest and collide, edges that are not there.
#include "Cut/PatchPlan.h"

#include "Groove/Geometry.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <numbers>

using namespace headland;
using cut::PatchPlan;

namespace {

constexpr double start_mm = 146;
constexpr double depth_um = 25;

/// Where a turn's groove is at an angle.
struct Groove {
    double centre_um; ///< from the start radius
    double depth_um;
    double left_um, right_um; ///< displacement of the walls
};

/// A patch of `turns` each side; `groove(turn, angle)` says what was cut.
cut::GroovePatch patchOf(int turns, std::size_t points,
                         const std::function<Groove(int turn, double angle_rad)>& groove) {
    cut::GroovePatch patch;
    patch.startRadius_mm = start_mm;
    patch.step_rad = 1e-4; // 14 µm
    patch.points = points;
    for (int turn = -turns; turn <= turns; ++turn) {
        patch.turns.push_back({turn, {}});
        for (std::size_t point = 0; point < points; ++point) {
            const auto g = groove(turn, patch.angle_rad(point));
            patch.turns.back().edges.push_back(
                {static_cast<float>(g.centre_um + groove::outerEdge_um(g.depth_um, g.right_um)),
                 static_cast<float>(g.centre_um + groove::innerEdge_um(g.depth_um, g.left_um))});
        }
    }
    return patch;
}

/// Turns of constant pitch with the same sine on both walls; `phase_rad` from turn to turn.
cut::GroovePatch sines(double pitch_um, double swing_um, double phase_rad) {
    return patchOf(2, 201, [=](int turn, double angle_rad) {
        const auto wall_um = swing_um * std::sin(2 * std::numbers::pi * angle_rad / 0.004 + turn * phase_rad);
        return Groove{-pitch_um * turn, depth_um, wall_um, wall_um};
    });
}

} // namespace

TEST_CASE("Of plain grooves the land is pitch less twice the depth, the width twice the depth") {
    const auto patch = sines(62, 0, 0);
    const PatchPlan plan(patch);
    for (std::size_t turn = 0; turn < 5; ++turn)
        for (const std::size_t point : {0u, 100u, 200u}) {
            CHECK(plan.width_um(turn, point) == Approx(50));
            CHECK(plan.depth_um(turn, point) == Approx(25));
            if (turn > 0) {
                CHECK(plan.land_um(turn, point) == Approx(12));
                CHECK(plan.spacing_um(turn, point) == Approx(62));
            }
        }
    CHECK(std::isnan(plan.land_um(0, 100))); // nothing before it
    CHECK(std::isnan(plan.spacing_um(0, 100)));
    CHECK(plan.placeTurn() == std::size_t{2});
    CHECK(plan.placePoint() == 100);
}

TEST_CASE("Turns in step nest, turns in opposition collide, as the formula of the land has it") {
    const auto swing_um = 20.0;
    const auto nesting = sines(62, swing_um, 0);
    CHECK(PatchPlan(nesting).narrowestLand()->value_um == Approx(12).margin(1e-3));
    const auto colliding = sines(62, swing_um, std::numbers::pi);
    const auto worst = PatchPlan(colliding).narrowestLand();
    // [c(t−T) − c(t)] − 2h + √2 d_L(t−T) − √2 d_R(t), both at their worst: an overcut, negative
    CHECK(worst->value_um == Approx(12 - 2 * groove::sqrt2 * swing_um).margin(0.02));
    CHECK(PatchPlan(colliding).land_um(worst->turn, worst->point) == worst->value_um);
    const auto angle = colliding.angle_rad(worst->point);
    CHECK(std::abs(std::sin(2 * std::numbers::pi * angle / 0.004)) == Approx(1).margin(0.01));
    CHECK(worst->turn > 0);
}

TEST_CASE(
    "The narrowest groove is where left and right part, and its bottom lies half way between the edges") {
    const auto patch = patchOf(1, 101, [](int turn, double angle_rad) {
        const auto isThere = turn == 1 && angle_rad > 0.00295 && angle_rad < 0.00305;
        return Groove{-80.0 * turn, depth_um, isThere ? 6.0 : 0.0, isThere ? -4.0 : 0.0};
    });
    const PatchPlan plan(patch);
    const auto narrow = plan.narrowestGroove();
    REQUIRE(narrow.has_value());
    CHECK(narrow->value_um == Approx(50 - 10 * groove::sqrt2).margin(1e-3));
    CHECK(narrow->turn == 2);
    CHECK(narrow->point == 80);
    const auto outer = plan.outerEdge(2, 80), inner = plan.innerEdge(2, 80), bottom = plan.bottom(2, 80);
    CHECK(bottom.outward_um == Approx((outer.outward_um + inner.outward_um) / 2));
    CHECK(bottom.along_um == Approx((outer.along_um + inner.along_um) / 2));
    CHECK(plan.spacing_um(2, 80) == Approx(80 - groove::sqrt2 * (6 - 4) / 2).margin(1e-3));
}

TEST_CASE("The plan is true to the disc: turns curve about its middle, the way of the cut is along") {
    const auto patch = patchOf(1, 2001, [](int turn, double) {
        return Groove{-40000.0 - 100.0 * turn, depth_um, 0, 0};
    });
    const PatchPlan plan(patch);
    CHECK(plan.referenceRadius_mm() == Approx(106).margin(1e-6));
    CHECK(plan.bottom(1, 1000).along_um == 0);
    CHECK(plan.bottom(1, 1000).outward_um == Approx(0).margin(1e-6));
    CHECK(plan.bottom(0, 1000).outward_um == Approx(100).margin(0.01));
    for (const std::size_t point : {0u, 300u, 1700u, 2000u}) {
        const auto p = plan.bottom(1, point);
        const auto angle = (static_cast<double>(point) - 1000) * 1e-4;
        CHECK(p.along_um == Approx(106000 * std::sin(angle)).margin(1e-6));
        CHECK(p.outward_um == Approx(106000 * std::cos(angle) - 106000).margin(1e-6));
        CHECK(std::hypot(p.along_um, p.outward_um + 106000) == Approx(106000)); // a circle
    }
    CHECK(plan.bottom(1, 2000).along_um > 10000);
}

TEST_CASE("Edges that are not there are neither placed nor measured") {
    auto patch = sines(62, 20, std::numbers::pi);
    const auto worst = PatchPlan(patch).narrowestLand();
    for (auto& turn : patch.turns) // nothing cut at the worst angles
        for (std::size_t point = 0; point < patch.points; ++point)
            if (std::abs(std::sin(2 * std::numbers::pi * patch.angle_rad(point) / 0.004)) > 0.5)
                turn.edges[point] = cut::noEdge;
    const PatchPlan plan(patch);
    CHECK(std::isnan(plan.width_um(2, worst->point)));
    CHECK(std::isnan(plan.land_um(2, worst->point)));
    CHECK(std::isnan(plan.spacing_um(2, worst->point)));
    CHECK(std::isnan(plan.bottom(2, worst->point).outward_um));
    const auto left = plan.narrowestLand();
    REQUIRE(left.has_value());
    CHECK(left->value_um > worst->value_um + 20);
    CHECK(left->value_um // nine degrees of the sine from point to point: 27 degrees are left
          == Approx(12 - 2 * groove::sqrt2 * 20 * std::sin(27 * std::numbers::pi / 180)).margin(0.01));
    patch.turns[1].edges.clear(); // and an edge that the patch does not even hold
    CHECK(std::isnan(PatchPlan(patch).land_um(2, 100)));
    CHECK(std::isnan(PatchPlan(patch).width_um(1, 100)));
    CHECK(PatchPlan(patch).narrowestLand()->turn >= 3);
}

TEST_CASE("Without the place's turn the plan's origin is the nearest groove there is, without any the start "
          "radius") {
    auto patch = sines(62, 0, 0);
    for (auto& edge : patch.turns[2].edges)
        edge = cut::noEdge;
    CHECK(PatchPlan(patch).referenceRadius_mm() == Approx(start_mm + 0.124));
    for (auto& turn : patch.turns)
        std::fill(turn.edges.begin(), turn.edges.end(), cut::noEdge);
    CHECK(PatchPlan(patch).referenceRadius_mm() == start_mm);
    CHECK_FALSE(PatchPlan(patch).narrowestLand().has_value());
    CHECK_FALSE(PatchPlan(patch).narrowestGroove().has_value());
    CHECK(PatchPlan(cut::GroovePatch{}).referenceRadius_mm() == 0);
    CHECK_FALSE(PatchPlan(cut::GroovePatch{}).placeTurn().has_value());
}

TEST_CASE("Turns that are not neighbours have no land between them") {
    auto patch = sines(62, 0, 0);
    patch.turns.erase(patch.turns.begin() + 1);
    const PatchPlan plan(patch);
    CHECK(std::isnan(plan.land_um(1, 100)));
    CHECK(std::isnan(plan.spacing_um(1, 100)));
    CHECK(plan.land_um(2, 100) == Approx(12));
}

TEST_CASE("In a field only that is measured which has both its edges there") {
    const auto patch = patchOf(2, 201, [](int turn, double angle_rad) { // closer by the turn, deeper along it
        return Groove{-70.0 * turn + turn * turn, depth_um + 500 * angle_rad, 0, 0};
    });
    const PatchPlan plan(patch);
    const auto everywhere = plan.narrowestLand();
    CHECK(everywhere->turn == 4);
    CHECK(everywhere->point == 200);
    const cut::PlanField left{.greatestAlong_um = 0};
    CHECK(plan.narrowestLand(left)->point == 100);
    CHECK(plan.narrowestGroove({.leastAlong_um = 700})->point == 148); // 700 µm at 146 mm, a point each 14.6
    const cut::PlanField around{.leastOutward_um = -32, .greatestOutward_um = 125};
    CHECK(plan.narrowestLand(around)->turn == 2);
    CHECK(plan.narrowestGroove(around)->value_um == Approx(50 - 2 * 500 * 0.01).margin(0.01));
    CHECK(plan.narrowestGroove(around)->turn >= 1);
    CHECK(plan.narrowestGroove(around)->turn <= 2);
    CHECK_FALSE(plan.narrowestLand({.leastOutward_um = -20, .greatestOutward_um = 20}).has_value());
    CHECK_FALSE(left.holds({std::nan(""), 0}));
    CHECK_FALSE(cut::PlanField{}.holds({0, std::nan("")}));
    CHECK(cut::PlanField{}.holds({1e9, -1e9}));
}
