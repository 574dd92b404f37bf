// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts a program and compares the disc it used with what a controller that knew the whole side could have used.
#pragma once

#include "Tests/Reference/EngineRun.h"
#include "Tests/Reference/FullKnowledgeOptimum.h"

#include <vector>

namespace headland::reference {

/// Interleaved stereo program.
struct Recording {
    double rate_hz;
    std::vector<float> samples;
};

inline std::vector<cut::CutFrame> cutRecording(const cut::CutSettings& settings, const Recording& recording) {
    const auto length_s = static_cast<double>(recording.samples.size() / 2) / recording.rate_hz;
    return test::cutProgram(settings, recording.rate_hz, length_s, [&](std::int64_t i) {
        const auto* sample = recording.samples.data() + 2 * i;
        return std::array<float, 2>{sample[0], sample[1]};
    });
}

/// First and one past the last frame of program.
inline std::pair<std::size_t, std::size_t> programRange(const std::vector<cut::CutFrame>& frames) {
    const auto isProgram = [](const cut::CutFrame& f) { return f.state == cut::State::program; };
    const auto first = std::find_if(frames.begin(), frames.end(), isProgram);
    const auto last = std::find_if_not(first, frames.end(), isProgram);
    return {static_cast<std::size_t>(first - frames.begin()),
            static_cast<std::size_t>(last - frames.begin())};
}

/// Radius used by the program, µm.
inline double used_um(const std::vector<cut::CutFrame>& frames) {
    const auto [first, last] = programRange(frames);
    return (frames[first - 1].radius_mm - frames[last - 1].radius_mm) * 1000;
}

/// The full-knowledge problem of a cut: its own demand (pairing, guard and depth included), from its own start.
inline OptimumProblem problemOf(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& s,
                                int coarse) {
    const auto [first, last] = programRange(frames);
    OptimumProblem p{};
    p.turn_s = s.turn_s();
    p.sectorsPerTurn = s.sectors_per_turn;
    p.coarse = coarse;
    for (auto i = first; i < last; ++i)
        p.demand_um.push_back(std::min(frames[i].demand_um, s.pitch_max_um));
    const auto& start = frames[first - 1];
    for (auto i = first - 1 - static_cast<std::size_t>(s.sectors_per_turn); i < first; ++i)
        p.history_um.push_back((start.radius_mm - frames[i].radius_mm) * 1000);
    p.command_um = start.pitchCommand_um;
    p.axis_um = start.pitch_um;
    p.least_um = s.pitch_min_um;
    p.greatest_um = s.pitch_max_um;
    p.slew_um_s = s.pitch_slew_um_per_rev_s;
    p.lag_s = s.carriage_lag_s;
    return p;
}

} // namespace headland::reference
