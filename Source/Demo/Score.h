// SPDX-License-Identifier: GPL-3.0-or-later
// The score of the demo program: what sounds when, how loud and where. Sixty bars of four seconds in D minor.
// Times in s from the start, levels as RMS in dBFS at the middle of the note, pan -1 (left) to 1. Any thread.
#pragma once

#include <vector>

namespace headland::demo {

inline constexpr double bar_s = 4.0;
inline constexpr double programLength_s = 60 * bar_s;
/// The bass drum: the first thing heard after the strings have died away.
inline constexpr double drum_s = 24 * bar_s;

/// distance 0 is at the front of the stage, 1 heard only through the hall.
struct Note {
    double start_s, length_s, attack_s, release_s, pitch_midi, level_db, pan, distance;
};

/// One damped sine of a stroke: level in each channel at the blow (full scale = 1), decay_s is its time constant.
struct Mode {
    double frequency_hz, decay_s, left, right, phase = 0;
};

/// contact_s: how long the blow takes to speak.
struct Stroke {
    double start_s, contact_s;
    std::vector<Mode> modes;
};

/// Both in order of start.
struct Score {
    std::vector<Note> notes;
    std::vector<Stroke> strokes;
};

Score writeScore();

} // namespace headland::demo
