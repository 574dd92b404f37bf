// SPDX-License-Identifier: GPL-3.0-or-later
// The groove's cross-section: a 90 degree V cut by a 45/45 head. Right channel on the outer wall, left on the inner
// (IEC 60098:2020, 6.2.1, second-hand). Each wall moves along its own normal; displacements are positive along the
// one direction that moves both edges outward when left and right are alike. All lengths µm; pure functions.
#pragma once

#include <limits>
#include <numbers>

namespace headland::groove {

inline constexpr double sqrt2 = std::numbers::sqrt2;

/// Outer edge relative to the centre line, outward positive: depth is the unmodulated depth below the surface.
constexpr double outerEdge_um(double depth_um, double right_um) noexcept {
    return depth_um + sqrt2 * right_um;
}

/// Inner edge relative to the centre line, outward positive (so it is negative for a plain groove).
constexpr double innerEdge_um(double depth_um, double left_um) noexcept {
    return -depth_um + sqrt2 * left_um;
}

/// Momentary depth of the groove's bottom.
constexpr double momentaryDepth_um(double depth_um, double left_um, double right_um) noexcept {
    return depth_um + (right_um - left_um) / sqrt2;
}

/// Momentary width at the surface: always twice the momentary depth in a 90 degree groove.
constexpr double width_um(double depth_um, double left_um, double right_um) noexcept {
    return 2 * momentaryDepth_um(depth_um, left_um, right_um);
}

/// Lateral component of two wall quantities (displacement, velocity, acceleration), in their unit.
constexpr double lateral(double left, double right) noexcept {
    return (left + right) / sqrt2;
}

/// Vertical component, downward positive.
constexpr double vertical(double left, double right) noexcept {
    return (right - left) / sqrt2;
}

/// Speed of the lacquer under the stylus, µm/s, at a radius in mm.
constexpr double grooveSpeed_um_s(double radius_mm, double turn_s) noexcept {
    return 2 * std::numbers::pi * radius_mm * 1000 / turn_s;
}

/// Slope of the groove in plan, from the velocity of the worse wall along its normal: its edge moves √2 as fast.
constexpr double slope(double grooveSpeed_um_s, double wallVelocity_um_s) noexcept {
    return sqrt2 * wallVelocity_um_s / grooveSpeed_um_s;
}

/// Radius of curvature of a wall, µm, from its acceleration along its normal; +infinity when there is none.
constexpr double curvatureRadius_um(double grooveSpeed_um_s, double acceleration_um_s2) noexcept {
    return acceleration_um_s2 > 0 ? grooveSpeed_um_s * grooveSpeed_um_s / acceleration_um_s2
                                  : std::numeric_limits<double>::infinity();
}

} // namespace headland::groove
