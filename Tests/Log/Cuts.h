// SPDX-License-Identifier: GPL-3.0-or-later
// Made-up cuts for books: heads, and frames whose figures all differ and take every form a log has to keep.
#pragma once

#include "Log/BookWriter.h"
#include "Tests/Support/Random.h"

#include <cmath>
#include <limits>
#include <vector>

namespace headland::test {

inline log::CutHead madeUpHead() {
    log::CutHead head;
    head.side = {"Lantern Sessions", "A"};
    head.madeBy = "a test";
    head.version = "0.0";
    head.sampleRate_hz = 44100;
    head.preview = "own delay";
    head.settings.land_min_um = 14.25;
    head.settings.disc_level_db = -1.0 / 3; // takes all the figures a double has
    head.otherSettings = {{"land_add_um", 2.5}};
    return head;
}

/// Frame `number` of a made-up cut.
inline cut::CutFrame madeUpFrame(std::int64_t number, const cut::CutSettings& settings) {
    const auto at = static_cast<double>(number + 1);
    const auto wave = [at](double period) { return std::sin(at / period); };
    cut::CutFrame f{};
    f.time_s = at * settings.sector_s() - 2.25;
    f.turn = at / settings.sectors_per_turn;
    f.radius_mm = settings.start_radius_mm - at * 0.00041;
    f.pitch_um = 100 + 40 * wave(70);
    f.pitchCommand_um = 101 + 40 * wave(69);
    f.depth_um = 25 + wave(33);
    f.depthCommand_um = 25.5 + wave(32);
    f.landMin_um =
        number < settings.sectors_per_turn ? std::numeric_limits<double>::quiet_NaN() : 12 + 14 * wave(50);
    f.widthMin_um = 48 + 9 * wave(21);
    f.lateralPeak_cm_s = 6 + 5 * wave(11);
    f.verticalPeak_cm_s = 2 + 1.5 * wave(13);
    f.slopePeak = 0.4 + 0.39 * wave(17);
    f.curvatureMin_um =
        number % 97 == 0 ? std::numeric_limits<double>::infinity() : std::pow(10, 9 + 8 * wave(29));
    f.demand_um = 90 + 30 * wave(70);
    f.shortfall_um = number % 31 == 0 ? 3.75 : 0;
    f.peak_dbfs = number % 89 == 0 ? -std::numeric_limits<double>::infinity() : -20 + 10 * wave(23);
    f.outerSwing_um = number % 101 == 0 ? std::numeric_limits<double>::quiet_NaN() : 8 * wave(19) - 1;
    f.innerSwing_um = 7 * wave(18) + 2;
    f.lift_um = 3 * wave(16) - 0.5;
    f.depthPeak_um = 31 + 5 * wave(18);
    f.estimate = {
        at * 0.0004,      80 - at * 0.0004, at * 0.01,    500 - at * 0.01,
        20 - at * 0.0001, 260 + wave(100),  4 + wave(90), static_cast<disc::EstimateGrade>(number / 100 % 3)};
    f.state = number < 300 ? cut::State::leadIn : cut::State::program;
    f.flags = static_cast<std::uint16_t>(f.landMin_um < 0 ? 1 : number % 31 == 0 ? 1 << 6 : 0);
    return f;
}

inline std::vector<cut::CutFrame> madeUpFrames(std::int64_t count) {
    std::vector<cut::CutFrame> frames;
    for (std::int64_t i = 0; i < count; ++i)
        frames.push_back(madeUpFrame(i, madeUpHead().settings));
    return frames;
}

inline void tell(log::BookWriter& writer, const std::vector<cut::CutFrame>& frames) {
    std::int64_t number = 0;
    for (const auto& frame : frames)
        writer.frame(frame, number++);
}

} // namespace headland::test
