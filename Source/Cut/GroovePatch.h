// SPDX-License-Identifier: GPL-3.0-or-later
// The groove as it lies on the disc: its two edges sample by sample, and a patch of neighbouring turns around one place,
// as a microscope would show it. Plain data; the engine gives the first, the log keeps the second, views draw it.
#pragma once

#include "Cut/CutFrame.h"

#include <cstdint>
#include <limits>
#include <span>
#include <vector>

namespace headland::cut {

/// Both edges of the groove at one sample, along the radius, relative to the start radius; outward positive, so that
/// both shrink as the side goes in. A float holds a whole side to 0.02 µm.
struct EdgePoint {
    float outer_um;
    float inner_um;
};

/// Edges of neighbouring samples.
struct EdgeRun {
    std::int64_t firstSample; ///< counted from where the stylus was lowered
    std::span<const EdgePoint> points;
};

/// A turn's groove in a patch.
struct PatchTurn {
    int turn; ///< 0: the one the place is in; -1: the one before, further out; 1: the one after
    std::vector<EdgePoint> edges; ///< at the patch's angles; NaN where nothing was cut
};

/// Neighbouring turns around one place.
struct GroovePatch {
    double time_s = 0;         ///< program time of the place at the stylus
    double startRadius_mm = 0; ///< what the edges are relative to
    double step_rad = 0;       ///< between two points of a turn, along the way of the cut
    std::size_t points = 0;    ///< of each turn, odd; the middle one is the place
    std::vector<PatchTurn> turns; ///< outermost first

    /// Angle of a point, the place's being 0; positive is cut later.
    double angle_rad(std::size_t point) const noexcept {
        return (static_cast<double>(point) - static_cast<double>(points / 2)) * step_rad;
    }
};

inline constexpr EdgePoint noEdge{std::numeric_limits<float>::quiet_NaN(),
                                  std::numeric_limits<float>::quiet_NaN()};

} // namespace headland::cut
