// SPDX-License-Identifier: GPL-3.0-or-later
// Where the sound lies in a program file, and how it is coded, told from the sizes of the file's chunks and the one chunk
// that describes the coding. libsndfile reads the samples; this comes before it, because it mends in silence what cannot
// be trusted (a file that is cut off, a second chunk of sound, sizes that contradict each other), and because no decoder
// of a lossy coding may see the file at all. Reads a few bytes a chunk, whatever their number or size. Any thread.
//
// Sources: the chunks of WAV, Multimedia Programming Interface and Data Specifications 1.0 (IBM, Microsoft 1991); RF64,
// EBU Tech 3306; AIFF, Audio Interchange File Format 1.3 (Apple 1989) and the AIFF-C draft of 1991; CAF, Apple Core
// Audio Format Specification 1.0. W64 is as sox and ffmpeg write it, for want of a document.
#pragma once

#include "Files/InputFile.h"

#include <cstdint>
#include <string>

namespace headland::files {

struct SoundLayout {
    enum class Kind { wav, rf64, w64, aiff, caf, flac };

    Kind kind = Kind::wav;
    /// What a person calls it: "WAV", "AIFF" …
    const char* name = "";
    std::int64_t end_bytes = 0; ///< of the container; what lies behind it is none of its

    // Not of FLAC, which says these in its stream:
    std::int64_t sound_bytes = 0; ///< where its first sample is
    std::int64_t length_frames = 0;
    int channels = 0;
    int bits = 0; ///< of a sample as stored: 8, 16, 24 or 32; 32 or 64 in floating point
    bool isFloat = false;
};

/// Looks through the file. Throws InputError, one sentence: empty, lossy, no sound file of a kind that is read, cut off,
/// damaged, never finished, contradicting itself, of a coding that is not read, without a sample.
SoundLayout layoutOf(InputFile& file);

} // namespace headland::files
