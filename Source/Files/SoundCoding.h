// SPDX-License-Identifier: GPL-3.0-or-later
// How the sound in a file is coded, from the one chunk of its header that says so. What is no plain samples is refused here,
// before any decoder has seen it. Sources: see SoundLayout.h. Any thread.
#pragma once

#include "Files/InputFile.h"

#include <cstdint>
#include <optional>

namespace headland::files {

struct SoundCoding {
    int channels = 0; ///< at least 1
    int bits = 0;     ///< of a sample as stored: 8, 16, 24 or 32; 32 or 64 in floating point
    bool isFloat = false;
    std::int64_t frame_bytes = 0;
    double sampleRate_hz = 0;                  ///< for times in messages; 0 where it is not looked at
    std::optional<std::int64_t> length_frames; ///< where the chunk says that as well
};

/// The content of the chunk begins at `start_bytes` and has `size_bytes`: of WAV, RF64 and W64 the "fmt " chunk, of AIFF
/// the COMM chunk, of CAF the desc chunk. All throw InputError, one sentence: too short, lossy or another coding that is
/// not read, contradicting itself.
SoundCoding waveCoding(InputFile& file, std::int64_t start_bytes, std::int64_t size_bytes);
SoundCoding aiffCoding(InputFile& file, std::int64_t start_bytes, std::int64_t size_bytes, bool isAifc);
SoundCoding cafCoding(InputFile& file, std::int64_t start_bytes, std::int64_t size_bytes);

} // namespace headland::files
