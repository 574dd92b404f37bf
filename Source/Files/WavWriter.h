// SPDX-License-Identifier: GPL-3.0-or-later
// Writes a stereo WAV file of 24 bit into an OutputFile, with libsndfile. Full scale = ±1. One thread at a time, not the
// audio thread.
#pragma once

#include "Files/OutputFile.h"

#include <cstdint>
#include <string>

struct sf_private_tag; // libsndfile's SNDFILE

namespace headland::files {

class WavWriter {
public:
    /// Begins the file in `output`, which must outlive the writer; committing it is left to its owner, after finish().
    /// `title` goes into the file's texts. Throws OutputError if libsndfile refuses.
    WavWriter(OutputFile& output, int sampleRate_hz, const std::string& title);
    ~WavWriter();
    WavWriter(const WavWriter&) = delete;
    WavWriter& operator=(const WavWriter&) = delete;

    /// What lies beyond full scale is cut off there. False if the disk does not take it: commit() of the file says why.
    bool write(const float* left, const float* right, int count_frames);
    /// Completes the header. Nothing may be written afterwards.
    void finish() noexcept;

private:
    static std::int64_t length(void* writer);
    static std::int64_t seek(std::int64_t offset_bytes, int whence, void* writer);
    static std::int64_t read(void* destination, std::int64_t count_bytes, void* writer);
    static std::int64_t writeBytes(const void* bytes, std::int64_t count_bytes, void* writer);
    static std::int64_t tell(void* writer);

    OutputFile& file;
    std::int64_t length_bytes = 0;
    sf_private_tag* sound = nullptr;
};

} // namespace headland::files
