// SPDX-License-Identifier: GPL-3.0-or-later
// The demo program: four minutes of an invented ensemble (the Quillmere Ensemble) in an invented hall (Osselby
// Granary), so that a side can be cut without anybody's recording. The score is played sample by sample; the only
// chance in it is raw std::mt19937 bits, so a given build gives the same samples for any block size, bit for bit.
// Full scale = 1, times in samples. Not for the audio thread: notes and strokes allocate as they begin.
#pragma once

#include "Demo/Hall.h"
#include "Demo/Score.h"
#include "Demo/Strings.h"
#include "Demo/Struck.h"

#include <cstdint>
#include <random>
#include <vector>

namespace headland::demo {

/// The name of the piece, its players and its room, all invented.
inline constexpr const char* title = "Low Water Vigil (the Quillmere Ensemble, Osselby Granary)";

/// Plays the demo program from the start, block by block, in bounded memory.
class DemoProgram {
public:
    /// @param sampleRate_hz 44100 to 192000 Hz; anything else throws std::invalid_argument.
    explicit DemoProgram(double sampleRate_hz);

    /// The whole program in samples: four minutes, rounded to a sample.
    std::int64_t length() const { return length_samples; }

    /// Writes the next `frames` samples of both channels, peak below -1 dBFS; silence once the end is passed.
    /// A count of zero or less writes nothing.
    void render(float* left, float* right, int frames);

private:
    Frame next();
    void beginDue();

    double sampleRate_hz;
    std::int64_t length_samples;
    std::int64_t position_samples = 0;
    Score score;
    std::size_t nextNote = 0, nextStroke = 0;
    std::mt19937 chance{1903}; // any fixed seed; the levels in the score were set with this one
    std::vector<Desk> desks;
    std::vector<Struck> struck;
    Hall hall;
};

} // namespace headland::demo
