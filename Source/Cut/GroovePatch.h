// SPDX-License-Identifier: GPL-3.0-or-later
// A patch of neighbouring turns around one place, as a microscope would show it: the edges of each turn at the same angles.
// Plain data; the log keeps it, views draw it.
#pragma once

#include "Cut/EdgeRun.h"

#include <cstddef>
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

} // namespace headland::cut
