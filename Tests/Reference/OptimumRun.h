// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts a program and compares the disc it used with what a controller that knew the whole side could have used.
#pragma once

#include "Cut/ProgramRehearsal.h"
#include "Tests/Reference/Command.h"
#include "Tests/Reference/EngineRun.h"
#include "Tests/Reference/FullKnowledgeOptimum.h"
#include "Tests/Reference/SideLimit.h"

#include <cstring>
#include <vector>

namespace headland::reference {

inline constexpr int coarse = 4; ///< 64 plan sectors a turn in the linear program, at the default 256

/// What a demand beyond the greatest pitch is cut off below it, as the planner does: a carriage with lag never quite gets
/// there, and to demand it exactly would make both spend disc on the last nanometres.
inline constexpr double nearlyGreatest_um = 0.1;

/// What a rehearsal of it leaves.
inline std::shared_ptr<const plan::Profile> rehearse(const cut::CutSettings& settings,
                                                     const Recording& recording) {
    cut::ProgramRehearsal rehearsal(settings, recording.rate_hz);
    std::vector<float> left, right;
    for (std::size_t i = 0; i + 1 < recording.samples.size(); i += 2) {
        left.push_back(recording.samples[i]);
        right.push_back(recording.samples[i + 1]);
    }
    rehearsal.process(left.data(), right.data(), static_cast<int>(left.size()));
    return std::make_shared<const plan::Profile>(rehearsal.profile());
}

inline std::vector<cut::CutFrame> cutRecording(const cut::CutSettings& settings, const Recording& recording,
                                               std::shared_ptr<const plan::Profile> profile = {}) {
    const auto length_s = static_cast<double>(recording.samples.size() / 2) / recording.rate_hz;
    return test::cutProgram(
        settings, recording.rate_hz, length_s,
        [&](std::int64_t i) {
            const auto* sample = recording.samples.data() + 2 * i;
            return std::array<float, 2>{sample[0], sample[1]};
        },
        std::move(profile));
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

/// The full-knowledge problem of frames `first` … `last` − 1 of a cut: their own demand (pairing, guard and depth
/// included), from where the lathe really was.
inline OptimumProblem problemOf(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& s,
                                int coarse, std::size_t first, std::size_t last) {
    OptimumProblem p{};
    p.turn_s = s.turn_s();
    p.sectorsPerTurn = s.sectors_per_turn;
    p.coarse = coarse;
    for (auto i = first; i < last; ++i)
        p.demand_um.push_back(std::min(frames[i].demand_um, s.pitch_max_um - nearlyGreatest_um));
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

/// That of the whole program.
inline OptimumProblem problemOf(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& s,
                                int coarse) {
    const auto [first, last] = programRange(frames);
    return problemOf(frames, s, coarse, first, last);
}

/// Raw samples in pairs.
inline Recording recordingOf(const std::string& raw, double rate_hz = 44100) {
    Recording recording{rate_hz, std::vector<float>(raw.size() / sizeof(float))};
    std::memcpy(recording.samples.data(), raw.data(), recording.samples.size() * sizeof(float));
    return recording;
}

/// `length_s` of a sound file from `start_s` on, by ffmpeg, 44.1 kHz stereo; shorter where the file is.
inline Recording decode(const std::string& file, double start_s, double length_s) {
    return recordingOf(test::runCommand("ffmpeg -nostdin -loglevel error -ss " + std::to_string(start_s)
                                        + " -t " + std::to_string(length_s) + " -i " + test::quoted(file)
                                        + " -ac 2 -ar 44100 -f f32le -"));
}

/// The defaults at so much preview and this level.
inline cut::CutSettings settingsFor(double previewTurns, double level_db) {
    cut::CutSettings s;
    s.preview_s = previewTurns * s.turn_s();
    s.disc_level_db = level_db;
    s.depth_max_um = 90; // the pieces are wide in stereo; depth is not what is compared
    return s;
}

} // namespace headland::reference
