// SPDX-License-Identifier: GPL-3.0-or-later
// Invented frames for tests of what is made from frames: a lead-in, a program with slow waves in every figure, a
// lead-out; flags where a test wants them.

#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"

#include <cmath>
#include <functional>
#include <limits>
#include <vector>

namespace headland::test {

/// A sector of program with a value of its own in every figure, so that a mix-up shows.
inline cut::CutFrame distinctFrame() {
    cut::CutFrame frame{};
    frame.time_s = 12.3456785;
    frame.turn = 8.25;
    frame.radius_mm = 145.125;
    frame.pitch_um = 101.5;
    frame.pitchCommand_um = 102.25;
    frame.depth_um = 26.5;
    frame.depthCommand_um = 27.125;
    frame.landMin_um = -3.25;
    frame.widthMin_um = 41.75;
    frame.lateralPeak_cm_s = 6.5;
    frame.verticalPeak_cm_s = 2.75;
    frame.slopePeak = 0.125;
    frame.curvatureMin_um = 88.5;
    frame.demand_um = 95.5;
    frame.shortfall_um = 1.5;
    frame.peak_dbfs = -6.5;
    frame.outerSwing_um = 17.25;
    frame.innerSwing_um = 14.75;
    frame.lift_um = -2.25;
    frame.depthPeak_um = 31.5;
    frame.estimate.used_mm = 1.175;
    frame.estimate.left_mm = 84.5;
    frame.estimate.used_cm2 = 10.5;
    frame.estimate.left_cm2 = 500.5;
    frame.estimate.left_min = 19.5;
    frame.estimate.endDiameter_mm = 130.25;
    frame.estimate.endDiameterUncertainty_mm = 4.5;
    frame.estimate.grade = disc::EstimateGrade::lengthKnown;
    frame.state = cut::State::program;
    frame.flags = 0;
    return frame;
}

/// Frames of a whole invented side of `length_s`; `change` may alter each program frame.
inline std::vector<cut::CutFrame> inventedSide(const cut::CutSettings& settings, double length_s,
                                               const std::function<void(cut::CutFrame&)>& change = {}) {
    std::vector<cut::CutFrame> frames;
    const auto sector_s = settings.turn_s() / settings.sectors_per_turn;
    const auto leadIn_s = settings.lead_in_turns * settings.turn_s();
    auto radius_mm = settings.start_radius_mm + settings.lead_in_turns * settings.lead_in_pitch_um / 1000;
    for (long i = 1;; ++i) {
        cut::CutFrame frame = distinctFrame();
        frame.time_s = static_cast<double>(i) * sector_s - leadIn_s;
        if (frame.time_s > length_s + 2)
            return frames;
        frame.turn = static_cast<double>(i) / settings.sectors_per_turn;
        frame.state = frame.time_s <= 0          ? cut::State::leadIn
                      : frame.time_s <= length_s ? cut::State::program
                                                 : cut::State::leadOut;
        const auto isProgram = frame.state == cut::State::program;
        frame.pitch_um = isProgram ? 100 + 40 * std::sin(frame.time_s / 7) : settings.lead_in_pitch_um;
        frame.pitchCommand_um = frame.pitch_um + 2;
        frame.demand_um = 0.9 * frame.pitch_um;
        frame.depth_um = 27 + 2 * std::sin(frame.time_s / 5);
        frame.depthCommand_um = frame.depth_um + 0.5;
        frame.landMin_um =
            isProgram ? 15 + 3 * std::sin(frame.time_s / 3) : std::numeric_limits<double>::quiet_NaN();
        radius_mm -= frame.pitch_um / 1000 / settings.sectors_per_turn;
        frame.radius_mm = radius_mm;
        frame.estimate.used_mm = settings.start_radius_mm - radius_mm;
        frame.estimate.left_mm = radius_mm - settings.end_radius_mm;
        if (isProgram && change)
            change(frame);
        frames.push_back(frame);
    }
}

inline void raise(cut::CutFrame& frame, cut::Flag flag) {
    frame.flags = static_cast<std::uint16_t>(frame.flags | static_cast<std::uint16_t>(flag));
}

/// An invented side that overcuts from 10 s to 10.5 s and is too narrow from 20 s to 21 s.
inline std::vector<cut::CutFrame> sideOfFlags(const cut::CutSettings& settings, double length_s) {
    return inventedSide(settings, length_s, [](cut::CutFrame& frame) {
        if (frame.time_s > 10 && frame.time_s < 10.5) {
            raise(frame, cut::Flag::overcut);
            frame.landMin_um = -2 - frame.time_s;
        }
        if (frame.time_s > 20 && frame.time_s < 21)
            raise(frame, cut::Flag::narrow);
    });
}

} // namespace headland::test
