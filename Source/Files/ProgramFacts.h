// SPDX-License-Identifier: GPL-3.0-or-later
// What a report says of the program file: name, kind, rate, length. Plain data.
#pragma once

#include "Files/ProgramFile.h"

#include <cstdint>
#include <string>

namespace headland::files {

/// The program file, as shown to a person.
struct ProgramFacts {
    std::string fileName; ///< without its folder, printable
    std::string format;   ///< "WAV, 24 bit"
    double sampleRate_hz = 0;
    int channels = 0;
    std::int64_t length_frames = 0;
    double length_s = 0;
};

/// The facts of an open program; `path` as the user gave it.
ProgramFacts factsOf(const ProgramFile& program, const std::string& path);

/// "demo.wav: WAV, 24 bit, 44.1 kHz, stereo"
std::string describe(const ProgramFacts& program);

} // namespace headland::files
