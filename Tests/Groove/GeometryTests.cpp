// SPDX-License-Identifier: GPL-3.0-or-later
// The cross-section against closed forms: which edge each channel moves, width, depth, speeds and curvature.
#include "Groove/Geometry.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

using namespace headland::groove;

namespace {

constexpr double depth_um = 25, peak_um = 8;

/// How far something swings over one cycle of a sine in the channels.
struct Swing {
    double least, greatest;
    double range() const { return greatest - least; }
};

struct Edges {
    Swing inner_um, outer_um, width_um, depth_um;
};

/// One cycle of a sine with these gains in left and right.
Edges cycle(double leftGain, double rightGain) {
    constexpr int steps = 360;
    std::vector<double> inner, outer, width, depth;
    for (int i = 0; i < steps; ++i) {
        const auto wall_um = peak_um * std::sin(2 * std::numbers::pi * i / steps);
        const auto left_um = leftGain * wall_um, right_um = rightGain * wall_um;
        inner.push_back(innerEdge_um(depth_um, left_um));
        outer.push_back(outerEdge_um(depth_um, right_um));
        width.push_back(width_um(depth_um, left_um, right_um));
        depth.push_back(momentaryDepth_um(depth_um, left_um, right_um));
    }
    const auto swing = [](const std::vector<double>& v) {
        const auto [least, greatest] = std::minmax_element(v.begin(), v.end());
        return Swing{*least, *greatest};
    };
    return {swing(inner), swing(outer), swing(width), swing(depth)};
}

const double edgeSwing_um = 2 * std::sqrt(2.0) * peak_um; ///< peak to peak: the wall moves at 45°

} // namespace

TEST_CASE("an unmodulated groove is twice as wide as deep", "[geometry]") {
    // A 90° V (groove model, 2).
    CHECK(outerEdge_um(depth_um, 0) == depth_um);
    CHECK(innerEdge_um(depth_um, 0) == -depth_um);
    CHECK(width_um(depth_um, 0, 0) == 2 * depth_um);
    CHECK(momentaryDepth_um(depth_um, 0, 0) == depth_um);
}

TEST_CASE("the right channel moves the outer edge only", "[geometry]") {
    // IEC 60098:2020, 6.2.1 (second-hand): right on the outer wall.
    const auto edges = cycle(0, 1);
    CHECK(edges.inner_um.range() == 0);
    CHECK(edges.outer_um.range() == Approx(edgeSwing_um));
    CHECK(outerEdge_um(depth_um, 1) > outerEdge_um(depth_um, 0));
}

TEST_CASE("the left channel moves the inner edge only", "[geometry]") {
    // IEC 60098:2020, 6.2.1 (second-hand): left on the inner wall.
    const auto edges = cycle(1, 0);
    CHECK(edges.outer_um.range() == 0);
    CHECK(edges.inner_um.range() == Approx(edgeSwing_um));
    CHECK(innerEdge_um(depth_um, 1) > innerEdge_um(depth_um, 0));
}

TEST_CASE("equal channels move both edges alike and leave the width alone", "[geometry]") {
    const auto edges = cycle(1, 1);
    CHECK(edges.inner_um.range() == Approx(edgeSwing_um));
    CHECK(edges.outer_um.range() == Approx(edgeSwing_um));
    CHECK(edges.width_um.range() == Approx(0).margin(1e-12));
    CHECK(edges.depth_um.range() == Approx(0).margin(1e-12));
    CHECK(outerEdge_um(depth_um, 3) - innerEdge_um(depth_um, 3) == Approx(2 * depth_um));
}

TEST_CASE("opposed channels widen and narrow the groove", "[geometry]") {
    // Closed form: width 2h + √2(d_R − d_L), depth h + (d_R − d_L)/√2.
    const auto edges = cycle(-1, 1);
    CHECK(edges.width_um.greatest == Approx(2 * depth_um + 2 * std::sqrt(2.0) * peak_um));
    CHECK(edges.width_um.least == Approx(2 * depth_um - 2 * std::sqrt(2.0) * peak_um));
    CHECK(edges.depth_um.greatest == Approx(depth_um + std::sqrt(2.0) * peak_um));
    CHECK(edges.depth_um.least == Approx(depth_um - std::sqrt(2.0) * peak_um));
}

TEST_CASE("the width is the distance of the edges and twice the depth", "[geometry]") {
    for (const auto left_um : {-7.0, 0.0, 3.0})
        for (const auto right_um : {-4.0, 0.0, 9.0}) {
            const auto width = outerEdge_um(depth_um, right_um) - innerEdge_um(depth_um, left_um);
            CHECK(width_um(depth_um, left_um, right_um) == Approx(width));
            CHECK(2 * momentaryDepth_um(depth_um, left_um, right_um) == Approx(width));
        }
}

TEST_CASE("lateral and vertical are the walls' sum and difference", "[geometry]") {
    // Walls at right angles to each other: equal walls add to √2 of one, along the surface; opposed ones at right
    // angles to it. The power of both components is that of both walls.
    CHECK(lateral(1, 1) == Approx(std::sqrt(2.0)));
    CHECK(vertical(1, 1) == 0);
    CHECK(lateral(-1, 1) == 0);
    CHECK(vertical(-1, 1) == Approx(std::sqrt(2.0)));
    CHECK(std::hypot(lateral(3, 4), vertical(3, 4)) == Approx(5));
}

TEST_CASE("the groove runs as fast as the table says", "[geometry]") {
    // Groove model, 5: 51.0 cm/s at 146.05 mm and 21.1 at 60.325 mm, 33⅓; 10 kHz at 57.5 mm is 20.1 µm long.
    constexpr double turn_s = 1.8, um_per_cm = 1e4;
    CHECK(grooveSpeed_um_s(146.05, turn_s) / um_per_cm == Approx(51.0).margin(0.05));
    CHECK(grooveSpeed_um_s(60.325, turn_s) / um_per_cm == Approx(21.1).margin(0.05));
    CHECK(grooveSpeed_um_s(57.5, turn_s) / 10000 == Approx(20.1).margin(0.05));
}

TEST_CASE("the radius of curvature of a sine's crest", "[geometry]") {
    // Closed form: the path A·sin(2πx/λ) has its least radius (λ/2π)²/A at the crest.
    constexpr double speed_um_s = 3e5, frequency_hz = 5000, amplitude_um = 4;
    const auto w = 2 * std::numbers::pi * frequency_hz;
    const auto wavelength_um = speed_um_s / frequency_hz;
    const auto expected_um = std::pow(wavelength_um / (2 * std::numbers::pi), 2) / amplitude_um;
    CHECK(curvatureRadius_um(speed_um_s, amplitude_um * w * w) == Approx(expected_um));
    CHECK(std::isinf(curvatureRadius_um(speed_um_s, 0)));
}
