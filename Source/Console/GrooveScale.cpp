// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/GrooveScale.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace headland::console {

namespace {

constexpr double margin_share = 0.07; ///< of the view's height, above and below the turns
constexpr int narrowings = 8;

/// How far out and in the turns lie.
struct Extent {
    double least_um = std::numeric_limits<double>::infinity();
    double greatest_um = -std::numeric_limits<double>::infinity();

    void take(double value_um) noexcept {
        if (!std::isfinite(value_um))
            return;
        least_um = std::min(least_um, value_um);
        greatest_um = std::max(greatest_um, value_um);
    }
    bool isEmpty() const noexcept { return least_um > greatest_um; }
};

/// Of the place's turn and its neighbours, as far along as `half_um` on either side of the place.
Extent extentOf(const cut::PatchPlan& plan, const cut::GroovePatch& patch, double half_um) noexcept {
    Extent extent;
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn) {
        if (std::abs(patch.turns[turn].turn) > 1)
            continue;
        for (std::size_t point = 0; point < patch.points; ++point) {
            const auto outer = plan.outerEdge(turn, point);
            if (!(std::abs(outer.along_um) <= half_um))
                continue;
            extent.take(outer.outward_um);
            extent.take(plan.innerEdge(turn, point).outward_um);
        }
    }
    return extent;
}

/// Half the patch's length where it is shortest, which is in the innermost turn.
double halfLength_um(const cut::PatchPlan& plan, const cut::GroovePatch& patch) noexcept {
    auto shortest_um = std::numeric_limits<double>::infinity();
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
        for (const std::size_t point : {std::size_t{0}, patch.points - 1})
            shortest_um = std::fmin(shortest_um, std::abs(plan.innerEdge(turn, point).along_um));
    return shortest_um;
}

/// How far along from the place the view must reach, either way: to the worst overcut between the place's turn and its
/// neighbours, if there is one.
double mustReach_um(const cut::PatchPlan& plan, const cut::GroovePatch& patch) noexcept {
    constexpr double beyond = 1.1;
    auto worst_um = 0.0, reach_um = 0.0;
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
        for (std::size_t point = 0; point < patch.points; ++point)
            if (patch.turns[turn].turn >= 0 && patch.turns[turn].turn <= 1
                && plan.land_um(turn, point) < worst_um) {
                worst_um = plan.land_um(turn, point);
                reach_um = beyond * std::abs(plan.outerEdge(turn, point).along_um);
            }
    return reach_um;
}

/// Beyond the last turn that the patch holds on either side there are others that it does not know: the view ends there, or
/// they would look like land. Where the last turn was not cut there is nothing beyond it either.
void endAtLastTurns(GrooveScale& scale, const cut::PatchPlan& plan, const cut::GroovePatch& patch) noexcept {
    constexpr double beyond_px = 6;
    const auto field = scale.field();
    Extent outermost, innermost;
    for (std::size_t point = 0; point < patch.points && !patch.turns.empty(); ++point) {
        const auto outer = plan.outerEdge(0, point), inner = plan.innerEdge(patch.turns.size() - 1, point);
        if (outer.along_um >= field.leastAlong_um && outer.along_um <= field.greatestAlong_um)
            outermost.take(outer.outward_um);
        if (inner.along_um >= field.leastAlong_um && inner.along_um <= field.greatestAlong_um)
            innermost.take(inner.outward_um);
    }
    if (!innermost.isEmpty())
        scale.view.top = std::max(scale.view.top, scale.y({0, innermost.least_um}) - beyond_px);
    if (!outermost.isEmpty())
        scale.view.bottom = std::min(scale.view.bottom, scale.y({0, outermost.greatest_um}) + beyond_px);
}

} // namespace

cut::PlanField GrooveScale::field() const noexcept {
    return {(view.left - alongZero_px) / px_per_um, (view.right - alongZero_px) / px_per_um,
            (view.top - outwardZero_px) / px_per_um, (view.bottom - outwardZero_px) / px_per_um};
}

GrooveScale fitScale(const cut::PatchPlan& plan, const cut::GroovePatch& patch, const Box& room) noexcept {
    GrooveScale scale;
    const auto patchHalf_um = halfLength_um(plan, patch);
    const auto reach_um = std::min(patchHalf_um, mustReach_um(plan, patch));
    const auto pxPerUmMost =
        reach_um > 0 ? std::min(pxPerMicrometreMax, room.width() / 2 / reach_um) : pxPerMicrometreMax;
    auto half_um = patchHalf_um;
    Extent extent;
    // What is seen along the groove depends on the scale, and the scale on how far the turns swing in what is seen. The
    // part only ever narrows, so that everything in it stays within the height.
    for (int i = 0; i < narrowings; ++i) {
        extent = extentOf(plan, patch, half_um);
        if (extent.isEmpty())
            extent = {-100, 100}; // nothing was cut: a view of the bare surface
        const auto height_um = (extent.greatest_um - extent.least_um) / (1 - 2 * margin_share);
        scale.px_per_um = std::min(pxPerUmMost, room.height() / std::max(1.0, height_um));
        half_um = std::min(patchHalf_um, room.width() / 2 / scale.px_per_um);
    }
    scale.alongZero_px = (room.left + room.right) / 2;
    scale.outwardZero_px =
        (room.top + room.bottom) / 2 - scale.px_per_um * (extent.least_um + extent.greatest_um) / 2;
    const auto half_px = half_um * scale.px_per_um;
    scale.view = {scale.alongZero_px - half_px, room.top, scale.alongZero_px + half_px, room.bottom};
    endAtLastTurns(scale, plan, patch);
    return scale;
}

double roundLength_um(double px_per_um, double most_px) noexcept {
    const auto most_um = most_px / px_per_um;
    const auto decade = std::pow(10.0, std::floor(std::log10(most_um)));
    for (const auto factor : {5.0, 2.0})
        if (factor * decade <= most_um)
            return factor * decade;
    return decade;
}

} // namespace headland::console
