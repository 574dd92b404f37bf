// SPDX-License-Identifier: GPL-3.0-or-later
// Measures the groove that was really cut, at full sample rate, from its actual edges: the program under the stylus
// through filters of its own, the position and depth the simulated lathe had at that sample. Knows nothing of the plan, so
// that a planner's mistake shows as a measured overcut. Sized at construction; audio thread.
#pragma once

#include "Cut/EdgeRun.h"
#include "Groove/WallFilter.h"

#include <array>
#include <cstdint>
#include <span>
#include <vector>

namespace headland::cut {

/// Extremes of one sector.
struct GrooveMeasure {
    double landMin_um; ///< NaN when there is no previous turn
    double widthMin_um;
    double lateralPeak_um_s;
    double verticalPeak_um_s;
    double wallVelocityPeak_um_s;      ///< along a wall's normal, the worse wall
    double wallAccelerationPeak_um_s2; ///< the same
    double programPeak;                ///< full scale = 1
    double
        outerSwing_um; ///< greatest excursion of the outer edge outwards; below zero when it only swung inwards
    double innerSwing_um; ///< of the inner edge inwards
    double lift_um;       ///< of the stylus upwards
    double depthPeak_um;  ///< greatest depth with the program
};

class GrooveCheck {
public:
    static constexpr int maxBlock = groove::MotionFilter::maxBlock;

    /// `turnSamples` is one revolution; when it is not a whole number the previous turn's edge is interpolated in a
    /// straight line between its two nearest samples.
    GrooveCheck(const groove::WallFilterDesign& design, double turnSamples);

    /// The stylus goes down: there is no previous turn.
    void start() noexcept {
        cut = 0;
        position = 0;
    }

    /// The next samples (at most maxBlock) while the stylus is up: nothing is measured, the filters run on.
    void listen(std::span<const float> left, std::span<const float> right) noexcept { filter(left, right); }

    /// The next samples (at most maxBlock) under the stylus: program, how far in the centre line is and how deep.
    /// `closing`: the groove meets itself on purpose (finishing groove); no land is measured.
    void add(std::span<const float> left, std::span<const float> right, std::span<const double> inward_um,
             std::span<const double> depth_um, bool closing) noexcept;

    /// The edges of the samples that were added last, by what was added with them. Radius is the caller's.
    EdgeRun edges(std::span<const double> inward_um, std::span<const double> depth_um) noexcept;

    /// The sector's extremes since the last call.
    GrooveMeasure take() noexcept;

private:
    struct Extremes {
        double land_um, halfWidth_um, lateral_um_s, vertical_um_s, wall_um_s, wall_um_s2, program, outer_um,
            inner_um, lift_um, depth_um;
    };
    void filter(std::span<const float> left, std::span<const float> right) noexcept;
    void measureLand(std::span<const double> inward_um, std::span<const double> depth_um,
                     bool closing) noexcept;
    void measureDepth(std::span<const double> depth_um) noexcept;
    void measureMotion(std::size_t count) noexcept;
    void measureSwing(std::size_t count) noexcept;
    void measureProgram(std::span<const float> left, std::span<const float> right) noexcept;
    static Extremes none() noexcept;

    groove::DisplacementFilter displacement;
    groove::MotionFilter leftMotion, rightMotion;
    std::vector<double> innerEdges_um; ///< inner edges of the last turn, as a ring
    std::size_t position = 0;
    double fraction; ///< how far beyond a whole sample the turn reaches
    std::int64_t cut = 0;
    Extremes extremes = none();
    using Scratch = std::array<double, maxBlock>;
    std::array<EdgePoint, maxBlock> edgePoints{};
    Scratch left_um{}, right_um{}, leftVelocity{}, rightVelocity{}, leftAcceleration{}, rightAcceleration{};
};

} // namespace headland::cut
