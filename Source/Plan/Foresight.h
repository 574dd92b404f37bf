// SPDX-License-Identifier: GPL-3.0-or-later
// What is coming, as the plan stands at one moment: what the preview head has heard and the stylus has not reached yet.
// Plain data for views, of a fixed size, so that it can be handed from the audio thread; made by CutPlanner.
#pragma once

#include <array>
#include <cstddef>
#include <limits>
#include <span>
#include <type_traits>

namespace headland::plan {

/// One or more sectors ahead. Lengths µm; NaN: it is not known, the stylus being up.
struct ForesightStep {
    float outerSwing_um;  ///< greatest, outwards, of the outer edge, as heard
    float innerSwing_um;  ///< greatest, inwards, of the inner edge, as heard
    float spacing_um;     ///< demanded against the turn before, tolerances included; minus infinity: none
    float madeSpacing_um; ///< that the planned pitch will make there
    float pitch_um;       ///< planned, at the step's end, of the carriage
    float depth_um;       ///< planned, at the step's end
};

/// Steps of equal length from the end of the sector under the stylus to the end of what has been heard.
struct Foresight {
    static constexpr std::size_t stepsMax = 512;

    double time_s = std::numeric_limits<
        double>::quiet_NaN(); ///< program time where the first step begins; NaN: stylus up
    double step_s = 0;        ///< length of a step
    double shortfall_um =
        0; ///< how far a demand that is known will be missed at the best, as the planner has it; 0: none
    std::size_t count = 0; ///< of steps
    std::array<ForesightStep, stepsMax> all{};

    std::span<const ForesightStep> steps() const noexcept { return std::span(all).first(count); }
};

static_assert(std::is_trivially_copyable_v<Foresight>);

} // namespace headland::plan
