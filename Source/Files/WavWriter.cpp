// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/WavWriter.h"

#include "Files/Errors.h"

#include <sndfile.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace headland::files {

namespace {

/// In the upper bits of an int, as libsndfile takes integers of any word length.
int toInt(float sample) {
    constexpr double fullScale = 0x7fffffff;
    return static_cast<int>(std::lrint(std::clamp(static_cast<double>(sample), -1.0, 1.0) * fullScale));
}

} // namespace

WavWriter::WavWriter(OutputFile& output, int sampleRate_hz, const std::string& title) : file(output) {
    SF_INFO info{};
    info.samplerate = sampleRate_hz;
    info.channels = 2;
    info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    SF_VIRTUAL_IO calls{length, seek, read, writeBytes, tell};
    sound = sf_open_virtual(&calls, SFM_WRITE, &info, this);
    if (sound == nullptr)
        throw OutputError("The output file \"" + file.path() + "\" cannot be written: libsndfile refuses it ("
                          + sf_strerror(nullptr) + "); this is a fault of Headland, please report it.");
    sf_set_string(sound, SF_STR_TITLE, title.c_str());
}

WavWriter::~WavWriter() {
    finish();
}

bool WavWriter::write(const float* left, const float* right, int count_frames) {
    constexpr int block_frames = 4096;
    std::array<int, 2 * block_frames> interleaved;
    for (int done = 0; done < count_frames;) {
        const auto count = std::min(block_frames, count_frames - done);
        for (int i = 0; i < count; ++i) {
            interleaved[static_cast<size_t>(2 * i)] = toInt(left[done + i]);
            interleaved[static_cast<size_t>(2 * i + 1)] = toInt(right[done + i]);
        }
        if (sf_writef_int(sound, interleaved.data(), count) != count)
            return false;
        done += count;
    }
    return true;
}

void WavWriter::finish() noexcept {
    if (sound != nullptr)
        sf_close(sound);
    sound = nullptr;
}

// libsndfile's calls. Nothing may be thrown through it: what the file refuses, its commit() throws again.

std::int64_t WavWriter::length(void* writer) {
    return static_cast<WavWriter*>(writer)->length_bytes;
}

std::int64_t WavWriter::tell(void* writer) {
    return static_cast<WavWriter*>(writer)->file.position_bytes();
}

std::int64_t WavWriter::seek(std::int64_t offset_bytes, int whence, void* writer) {
    const auto from_bytes = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? tell(writer) : length(writer);
    try {
        static_cast<WavWriter*>(writer)->file.seek(from_bytes + offset_bytes);
    } catch (const OutputError&) {
        return -1;
    }
    return from_bytes + offset_bytes;
}

std::int64_t WavWriter::read(void*, std::int64_t, void*) {
    return 0;
}

std::int64_t WavWriter::writeBytes(const void* bytes, std::int64_t count_bytes, void* writer) {
    auto& my = *static_cast<WavWriter*>(writer);
    try {
        my.file.write({static_cast<const char*>(bytes), static_cast<size_t>(count_bytes)});
    } catch (const OutputError&) {
        return 0;
    }
    my.length_bytes = std::max(my.length_bytes, my.file.position_bytes());
    return count_bytes;
}

} // namespace headland::files
