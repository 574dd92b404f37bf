// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/GrooveCheck.h"

#include "Groove/Geometry.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace headland::cut {

namespace {

constexpr auto infinity = std::numeric_limits<double>::infinity();

/// Greatest of `value(i)`, i < count; four running greatest side by side, because the compiler may not reorder one.
template <typename Value>
double greatest(std::size_t count, double start, Value value) noexcept {
    std::array<double, 4> most{start, start, start, start};
    std::size_t i = 0;
    for (; i + most.size() <= count; i += most.size())
        for (std::size_t lane = 0; lane < most.size(); ++lane) {
            const double candidate = value(i + lane);
            most[lane] = candidate > most[lane] ? candidate : most[lane];
        }
    for (; i < count; ++i)
        most[0] = std::max(most[0], static_cast<double>(value(i)));
    return std::max(std::max(most[0], most[1]), std::max(most[2], most[3]));
}

} // namespace

GrooveCheck::GrooveCheck(const groove::WallFilterDesign& design, double turnSamples)
    : displacement(design),
      leftMotion(design),
      rightMotion(design),
      innerEdges_um(static_cast<std::size_t>(std::ceil(turnSamples)), 0.0),
      fraction(std::ceil(turnSamples) - turnSamples) {}

GrooveCheck::Extremes GrooveCheck::none() noexcept {
    return {infinity, infinity, 0, 0, 0, 0, 0, -infinity, -infinity, -infinity, -infinity};
}

void GrooveCheck::filter(std::span<const float> left, std::span<const float> right) noexcept {
    const auto count = left.size();
    const auto of = [count](Scratch& scratch) { return std::span(scratch).first(count); };
    displacement.process(left, right, of(left_um), of(right_um));
    leftMotion.process(of(left_um), of(leftVelocity), of(leftAcceleration));
    rightMotion.process(of(right_um), of(rightVelocity), of(rightAcceleration));
}

void GrooveCheck::add(std::span<const float> left, std::span<const float> right,
                      std::span<const double> inward_um, std::span<const double> depth_um,
                      bool closing) noexcept {
    const auto count = left.size();
    filter(left, right);
    measureLand(inward_um, depth_um, closing);
    measureDepth(depth_um);
    measureMotion(count);
    measureSwing(count);
    measureProgram(left, right);
    cut += static_cast<std::int64_t>(count);
}

/// Land = inner edge one turn ago − outer edge now; both relative to the start radius, outward positive.
void GrooveCheck::measureLand(std::span<const double> inward_um, std::span<const double> depth_um,
                              bool closing) noexcept {
    const auto count = inward_um.size();
    for (std::size_t done = 0; done < count;) {
        const auto run = std::min(count - done, innerEdges_um.size() - position);
        auto* edges = innerEdges_um.data() + position;
        const auto afterRun = position + run == innerEdges_um.size() ? innerEdges_um.front() : edges[run];
        const auto* inward = inward_um.data() + done;
        const auto* depth = depth_um.data() + done;
        const auto* right = right_um.data() + done;
        const auto* left = left_um.data() + done;
        const auto outer = [=](std::size_t i) {
            return groove::outerEdge_um(depth[i], right[i]) - inward[i];
        };
        const auto whole =
            cut + static_cast<std::int64_t>(done) >= static_cast<std::int64_t>(innerEdges_um.size());
        if (whole && !closing) {
            const auto negativeLand = [&](std::size_t i) { return outer(i) - edges[i]; };
            const auto between = [&](std::size_t i) {
                const auto next = i + 1 < run ? edges[i + 1] : afterRun;
                return outer(i) - (edges[i] + fraction * (next - edges[i]));
            };
            const auto worst = fraction == 0 ? greatest(run, -extremes.land_um, negativeLand)
                                             : greatest(run, -extremes.land_um, between);
            extremes.land_um = -worst;
        }
        for (std::size_t i = 0; i < run; ++i)
            edges[i] = groove::innerEdge_um(depth[i], left[i]) - inward[i];
        position = position + run == innerEdges_um.size() ? 0 : position + run;
        done += run;
    }
}

EdgeRun GrooveCheck::edges(std::span<const double> inward_um, std::span<const double> depth_um) noexcept {
    const auto count = inward_um.size();
    for (std::size_t i = 0; i < count; ++i)
        edgePoints[i] = {static_cast<float>(groove::outerEdge_um(depth_um[i], right_um[i]) - inward_um[i]),
                         static_cast<float>(groove::innerEdge_um(depth_um[i], left_um[i]) - inward_um[i])};
    return {0, cut - static_cast<std::int64_t>(count), std::span(edgePoints).first(count)};
}

/// Width is always twice the momentary depth.
void GrooveCheck::measureDepth(std::span<const double> depth_um) noexcept {
    const auto depth = [&](std::size_t i) {
        return groove::momentaryDepth_um(depth_um[i], left_um[i], right_um[i]);
    };
    const auto negative = [&](std::size_t i) { return -depth(i); };
    extremes.halfWidth_um = -greatest(depth_um.size(), -extremes.halfWidth_um, negative);
    extremes.depth_um = greatest(depth_um.size(), extremes.depth_um, depth);
}

void GrooveCheck::measureMotion(std::size_t count) noexcept {
    const auto sum = [](const Scratch& l, const Scratch& r) {
        return [&](std::size_t i) { return std::abs(groove::lateral(l[i], r[i])); };
    };
    const auto difference = [](const Scratch& l, const Scratch& r) {
        return [&](std::size_t i) { return std::abs(groove::vertical(l[i], r[i])); };
    };
    const auto worse = [](const Scratch& l, const Scratch& r) {
        return [&](std::size_t i) {
            const auto left = std::abs(l[i]), right = std::abs(r[i]);
            return left > right ? left : right;
        };
    };
    extremes.lateral_um_s = greatest(count, extremes.lateral_um_s, sum(leftVelocity, rightVelocity));
    extremes.vertical_um_s = greatest(count, extremes.vertical_um_s, difference(leftVelocity, rightVelocity));
    extremes.wall_um_s = greatest(count, extremes.wall_um_s, worse(leftVelocity, rightVelocity));
    extremes.wall_um_s2 = greatest(count, extremes.wall_um_s2, worse(leftAcceleration, rightAcceleration));
}

/// How far the program alone moves the edges from where they would be without it.
void GrooveCheck::measureSwing(std::size_t count) noexcept {
    const auto swing = [count](double before_um, auto value) { return greatest(count, before_um, value); };
    extremes.outer_um =
        swing(extremes.outer_um, [&](std::size_t i) { return groove::outerEdge_um(0, right_um[i]); });
    extremes.inner_um =
        swing(extremes.inner_um, [&](std::size_t i) { return -groove::innerEdge_um(0, left_um[i]); });
    extremes.lift_um = swing(extremes.lift_um, [&](std::size_t i) {
        return -groove::momentaryDepth_um(0, left_um[i], right_um[i]);
    });
}

void GrooveCheck::measureProgram(std::span<const float> left, std::span<const float> right) noexcept {
    extremes.program = greatest(left.size(), extremes.program, [=](std::size_t i) {
        const auto l = std::abs(left[i]), r = std::abs(right[i]);
        return l > r ? l : r;
    });
}

GrooveMeasure GrooveCheck::take() noexcept {
    displacement.flushResidue();
    const auto e = extremes;
    extremes = none();
    return {e.land_um == infinity ? std::numeric_limits<double>::quiet_NaN() : e.land_um,
            2 * e.halfWidth_um,
            e.lateral_um_s,
            e.vertical_um_s,
            e.wall_um_s,
            e.wall_um_s2,
            e.program,
            e.outer_um,
            e.inner_um,
            e.lift_um,
            e.depth_um};
}

} // namespace headland::cut
