// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/GrooveScale.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace headland::cut {

namespace {

constexpr double margin_share = 0.07; ///< of the view's height, above and below the turns
constexpr int narrowings = 8;
constexpr double holdUpTo =
    1.6; ///< a held step that many times too small is given up; a preferred number itself

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
Extent extentOf(const PatchPlan& plan, const GroovePatch& patch, const GrooveFit& fit,
                double half_um) noexcept {
    Extent extent;
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn) {
        if (patch.turns[turn].turn < -fit.before || patch.turns[turn].turn > fit.after)
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
double halfLength_um(const PatchPlan& plan, const GroovePatch& patch) noexcept {
    auto shortest_um = std::numeric_limits<double>::infinity();
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
        for (const std::size_t point : {std::size_t{0}, patch.points - 1})
            shortest_um = std::fmin(shortest_um, std::abs(plan.innerEdge(turn, point).along_um));
    return shortest_um;
}

/// How far along from the place the view must reach, either way: to the worst overcut between the place's turn and its
/// neighbours, if there is one.
double mustReach_um(const PatchPlan& plan, const GroovePatch& patch, const GrooveFit& fit) noexcept {
    constexpr double beyond = 1.1;
    auto worst_um = 0.0, reach_um = 0.0;
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
        for (std::size_t point = 0; point < patch.points; ++point)
            if (patch.turns[turn].turn > -fit.before && patch.turns[turn].turn <= fit.after
                && plan.land_um(turn, point) < worst_um) {
                worst_um = plan.land_um(turn, point);
                reach_um = beyond * std::abs(plan.outerEdge(turn, point).along_um);
            }
    return reach_um;
}

/// Beyond the last turn that the patch holds on either side there are others that it does not know: the view ends there, or
/// they would look like land. Where the last turn was not cut there is nothing beyond it either, and a turn that ends within
/// the patch is where the cut ends.
void endAtLastTurns(GrooveScale& scale, const PatchPlan& plan, const GroovePatch& patch) noexcept {
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
    const auto cutEnds = patch.turns.empty() || patch.points == 0
                         || std::isnan(plan.width_um(patch.turns.size() - 1, patch.points - 1));
    if (!innermost.isEmpty() && !cutEnds)
        scale.view.top = std::max(scale.view.top, scale.y({0, innermost.least_um}) - beyond_px);
    if (!outermost.isEmpty())
        scale.view.bottom = std::min(scale.view.bottom, scale.y({0, outermost.greatest_um}) + beyond_px);
}

/// The greatest preferred number that is not greater, or the held one.
double steppedScale(double px_per_um, double held_px_per_um) noexcept {
    constexpr double slack = 1e-9, steps_decade = 10;
    if (px_per_um >= held_px_per_um && px_per_um < holdUpTo * held_px_per_um)
        return held_px_per_um;
    return std::pow(10.0, std::floor(std::log10(px_per_um) * steps_decade + slack) / steps_decade);
}

template <typename Measure, typename Along, typename IsInField>
std::optional<PatchMeasure> nearTo(const std::optional<PatchMeasure>& least, const GroovePatch& patch,
                                   double along_um, Measure measure, Along along,
                                   IsInField isInField) noexcept {
    constexpr double same_um = 0.04;
    auto found = least;
    auto nearest_um = std::numeric_limits<double>::infinity();
    for (std::size_t turn = 0; least && turn < patch.turns.size(); ++turn)
        for (std::size_t point = 0; point < patch.points; ++point) {
            if (!(measure(turn, point) < least->value_um + same_um) || !isInField(turn, point))
                continue;
            if (const auto away_um = std::abs(along(turn, point) - along_um); away_um < nearest_um) {
                nearest_um = away_um;
                found = {least->value_um, turn, point};
            }
        }
    return found;
}

} // namespace

PlanField GrooveScale::field() const noexcept {
    return {(view.left - alongZero_px) / px_per_um, (view.right - alongZero_px) / px_per_um,
            (view.top - outwardZero_px) / px_per_um, (view.bottom - outwardZero_px) / px_per_um};
}

GrooveScale fitScale(const PatchPlan& plan, const GroovePatch& patch, const GrooveFit& fit) noexcept {
    GrooveScale scale;
    const auto& room = fit.room;
    const auto patchHalf_um = halfLength_um(plan, patch);
    const auto reach_um = std::min(patchHalf_um, mustReach_um(plan, patch, fit));
    const auto pxPerUmMost =
        reach_um > 0 ? std::min(pxPerMicrometreMax, room.width() / 2 / reach_um) : pxPerMicrometreMax;
    auto half_um = patchHalf_um;
    Extent extent;
    // What is seen along the groove depends on the scale, and the scale on how far the turns swing in what is seen. The
    // part only ever narrows, so that everything in it stays within the height.
    for (int i = 0; i < narrowings; ++i) {
        extent = extentOf(plan, patch, fit, half_um);
        if (extent.isEmpty())
            extent = {-100, 100}; // nothing was cut: a view of the bare surface
        const auto height_um = (extent.greatest_um - extent.least_um) / (1 - 2 * margin_share);
        scale.px_per_um = std::min(pxPerUmMost, room.height() / std::max(1.0, height_um));
        if (fit.inSteps)
            scale.px_per_um = steppedScale(scale.px_per_um, fit.held_px_per_um);
        const auto seen_um = std::min(patchHalf_um, room.width() / 2 / scale.px_per_um);
        if (seen_um == half_um)
            break;
        half_um = seen_um;
    }
    scale.alongZero_px = (room.left + room.right) / 2;
    scale.outwardZero_px =
        (room.top + room.bottom) / 2 - scale.px_per_um * (extent.least_um + extent.greatest_um) / 2;
    const auto half_px = half_um * scale.px_per_um;
    scale.view = {scale.alongZero_px - half_px, room.top, scale.alongZero_px + half_px, room.bottom};
    endAtLastTurns(scale, plan, patch);
    return scale;
}

PointRun pointsInView(const PatchPlan& plan, const GroovePatch& patch, const GrooveScale& scale) noexcept {
    constexpr double spare = 1.03;
    const auto half_um = spare * scale.view.width() / 2 / scale.px_per_um;
    const auto fromStart_um = (plan.referenceRadius_mm() - patch.startRadius_mm) * 1000;
    const auto isShown = [&](std::size_t point) {
        return std::abs(plan.at(point, fromStart_um).along_um) <= half_um;
    };
    auto first = plan.placePoint(), end = first;
    while (first > 0 && isShown(first))
        --first;
    while (end < patch.points && isShown(end))
        ++end;
    return {first, std::min(end + 1, patch.points)};
}

std::optional<PlanPoint> tipOfOvercut(const PatchPlan& plan, std::size_t turn, std::size_t in,
                                      std::size_t out) noexcept {
    const auto inside_um = plan.land_um(turn, in), outside_um = plan.land_um(turn, out);
    if (!(outside_um >= 0))
        return {};
    const auto share = inside_um / (inside_um - outside_um);
    const auto a = plan.outerEdge(turn, in), b = plan.outerEdge(turn, out);
    return PlanPoint{a.along_um + share * (b.along_um - a.along_um),
                     a.outward_um + share * (b.outward_um - a.outward_um)};
}

std::optional<PatchMeasure> narrowestLandNear(const PatchPlan& plan, const GroovePatch& patch,
                                              const PlanField& field, double along_um) noexcept {
    return nearTo(
        plan.narrowestLand(field), patch, along_um,
        [&](std::size_t turn, std::size_t point) { return plan.land_um(turn, point); },
        [&](std::size_t turn, std::size_t point) { return plan.outerEdge(turn, point).along_um; },
        [&](std::size_t turn, std::size_t point) {
            return field.holds(plan.innerEdge(turn - 1, point)) && field.holds(plan.outerEdge(turn, point));
        });
}

std::optional<PatchMeasure> narrowestGrooveNear(const PatchPlan& plan, const GroovePatch& patch,
                                                const PlanField& field, double along_um) noexcept {
    return nearTo(
        plan.narrowestGroove(field), patch, along_um,
        [&](std::size_t turn, std::size_t point) { return plan.width_um(turn, point); },
        [&](std::size_t turn, std::size_t point) { return plan.bottom(turn, point).along_um; },
        [&](std::size_t turn, std::size_t point) {
            return field.holds(plan.innerEdge(turn, point)) && field.holds(plan.outerEdge(turn, point));
        });
}

double roundLength_um(double px_per_um, double most_px) noexcept {
    const auto most_um = most_px / px_per_um;
    const auto decade = std::pow(10.0, std::floor(std::log10(most_um)));
    for (const auto factor : {5.0, 2.0})
        if (factor * decade <= most_um)
            return factor * decade;
    return decade;
}

} // namespace headland::cut
