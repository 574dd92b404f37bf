// SPDX-License-Identifier: GPL-3.0-or-later
// From the plan of a patch to the sheet: one scale for both axes, with the turns around the place in view. The plan is
// seen from above as from in front of the lathe: the way of the cut to the right, the disc's edge below, because a disc
// turns clockwise (common practice, no source); the other way up it would be a mirror image. Lengths in µm and px.
#pragma once

#include "Cut/PatchPlan.h"

namespace headland::console {

/// A rectangle of the sheet, px, y downwards.
struct Box {
    double left, top, right, bottom;

    double width() const noexcept { return right - left; }
    double height() const noexcept { return bottom - top; }
    bool meets(const Box& other) const noexcept {
        return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
    }
    bool holds(const Box& other) const noexcept {
        return other.left >= left && other.right <= right && other.top >= top && other.bottom <= bottom;
    }
    bool holds(double x, double y) const noexcept {
        return x >= left && x <= right && y >= top && y <= bottom;
    }
    /// As much larger on every side.
    Box grown(double by_px) const noexcept {
        return {left - by_px, top - by_px, right + by_px, bottom + by_px};
    }
};

struct GrooveScale {
    double px_per_um = 1;
    double alongZero_px = 0;   ///< x of the place
    double outwardZero_px = 0; ///< y of the plan's reference radius
    Box view{};                ///< what of the plan is shown

    double x(const cut::PlanPoint& point) const noexcept { return alongZero_px + px_per_um * point.along_um; }
    double y(const cut::PlanPoint& point) const noexcept {
        return outwardZero_px + px_per_um * point.outward_um;
    }
    /// The view as a part of the plan.
    cut::PlanField field() const noexcept;
};

/// Plain turns are shown five at a time: closer to, a groove at 44.1 kHz is little but the few samples it was cut from.
inline constexpr double pxPerMicrometreMax = 2.2;

/// The scale at which the place's turn and its two neighbours fill the height of `room`, or a smaller one if there is an
/// overcut further along. The view is narrower or lower than the room where the patch ends: nothing is shown of which the
/// patch does not know.
GrooveScale fitScale(const cut::PatchPlan& plan, const cut::GroovePatch& patch, const Box& room) noexcept;

/// A round length (1, 2 or 5 times a power of ten), µm, that is at most `most_px` long; more than 0.4 of it.
double roundLength_um(double px_per_um, double most_px) noexcept;

} // namespace headland::console
