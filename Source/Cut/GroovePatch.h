// SPDX-License-Identifier: GPL-3.0-or-later
// A patch of neighbouring turns around one place, as a microscope would show it: the edges of each turn at the same angles.
// Plain data; the log keeps it, views draw it.
#pragma once

#include "Cut/EdgeRun.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <vector>

namespace headland::cut {

/// A turn's groove in a patch.
struct PatchTurn {
    int turn; ///< 0: the one the place is in; -1: the one before, further out; 1: the one after
    std::vector<EdgePoint> edges; ///< at the patch's angles; NaN where nothing was cut
};

/// Neighbouring turns around one place.
struct GroovePatch {
    double time_s = 0;            ///< program time of the place at the stylus
    double startRadius_mm = 0;    ///< what the edges are relative to, wherever that is
    double step_rad = 0;          ///< between two points of a turn, along the way of the cut
    std::size_t points = 0;       ///< of each turn, odd; the middle one is the place
    std::vector<PatchTurn> turns; ///< outermost first

    /// Angle of a point, the place's being 0; positive is cut later.
    double angle_rad(std::size_t point) const noexcept {
        return (static_cast<double>(point) - static_cast<double>(points / 2)) * step_rad;
    }
};

/// Points of a patch are this far apart along the groove, at least.
inline constexpr double pointSpacing_um = 2.5;

/// How the points of a turn lie among its samples.
struct PointSpread {
    std::int64_t step_samples; ///< between two points
    std::int64_t half;         ///< points on either side of the place
};

/// Every sample is a point where samples are far enough apart along the groove: 11.6 µm at the outermost groove of a 30 cm
/// side at 44.1 kHz. Of a program at a high rate near the middle (1.0 µm at 192 kHz) as many are left out as it takes to
/// make it pointSpacing_um, and no more: a wavelength of 10 µm, which is 20 kHz there, keeps three points or four, and a
/// picture is not made of points closer than its lines are wide.
inline PointSpread spreadOf(double radius_mm, double turn_samples, double halfLength_mm) noexcept {
    constexpr double um_per_mm = 1000;
    const auto sample_um = 2 * std::numbers::pi * radius_mm * um_per_mm / turn_samples;
    const auto step = std::max(1.0, std::ceil(pointSpacing_um / sample_um));
    return {std::llround(step), std::llround(std::ceil(halfLength_mm * um_per_mm / (step * sample_um)))};
}

} // namespace headland::cut
