// SPDX-License-Identifier: GPL-3.0-or-later
// From the plan of a patch to the sheet or window: one scale for both axes, with the turns around the place in view. It is
// seen from above as from in front of the lathe: the way of the cut to the right, the disc's edge below, because a disc
// turns clockwise (common practice, no source); the other way up it would be a mirror image. Lengths in µm and px. Any
// thread.
#pragma once

#include "Cut/PatchPlan.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace headland::cut {

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

    double x(const PlanPoint& point) const noexcept { return alongZero_px + px_per_um * point.along_um; }
    double y(const PlanPoint& point) const noexcept { return outwardZero_px + px_per_um * point.outward_um; }
    /// The view as a part of the plan.
    PlanField field() const noexcept;
};

/// Plain turns are shown five at a time: closer to, a groove at 44.1 kHz is little but the few samples it was cut from.
inline constexpr double pxPerMicrometreMax = 2.2;

/// What a patch is fitted into, and how.
struct GrooveFit {
    Box room;
    int before = 1, after = 1; ///< turns on either side of the place's that fill the height with it
    bool inSteps = false; ///< the scale is a preferred number (ten a decade): a live view does not breathe
    double held_px_per_um =
        0; ///< a step that is kept while the turns fit and are not much too small; 0: none
};

/// The scale at which the place's turn and its neighbours fill the height of the room, or a smaller one if there is an
/// overcut further along. The view is narrower or lower than the room where the patch ends: nothing is shown of which the
/// patch does not know.
GrooveScale fitScale(const PatchPlan& plan, const GroovePatch& patch, const GrooveFit& fit) noexcept;

/// A stretch of a patch's points: [first, end).
struct PointRun {
    std::size_t first, end;
};

/// The points that the view shows, and a few more on either side: the outer turns need more of them.
PointRun pointsInView(const PatchPlan& plan, const GroovePatch& patch, const GrooveScale& scale) noexcept;

/// The stretches of points for which `is` holds. Allocates.
template <typename Is>
std::vector<PointRun> runsOf(const PointRun& within, Is is) {
    std::vector<PointRun> runs;
    for (auto point = within.first; point < within.end; ++point) {
        if (!is(point))
            continue;
        if (!runs.empty() && runs.back().end == point)
            ++runs.back().end;
        else
            runs.push_back({point, point + 1});
    }
    return runs;
}

/// Where the land is zero between two points, in one of which (`in`) it is negative: both edges are there. Nothing where it
/// is not known in the other.
std::optional<PlanPoint> tipOfOvercut(const PatchPlan& plan, std::size_t turn, std::size_t in,
                                      std::size_t out) noexcept;

/// Of all places in the field that have the least land as far as it is printed, the one nearest to `along_um`.
std::optional<PatchMeasure> narrowestLandNear(const PatchPlan& plan, const GroovePatch& patch,
                                              const PlanField& field, double along_um) noexcept;
/// The same of the narrowest groove.
std::optional<PatchMeasure> narrowestGrooveNear(const PatchPlan& plan, const GroovePatch& patch,
                                                const PlanField& field, double along_um) noexcept;

/// A round length (1, 2 or 5 times a power of ten), µm, that is at most `most_px` long; more than 0.4 of it.
double roundLength_um(double px_per_um, double most_px) noexcept;

} // namespace headland::cut
