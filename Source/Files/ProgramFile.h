// SPDX-License-Identifier: GPL-3.0-or-later
// A program on disk: WAV, RF64, W64, AIFF, CAF or FLAC, read from start to end in blocks with libsndfile. What cannot be
// cut is refused at the start, in words (SoundLayout, FlacCheck); memory does not grow with the file. Full scale = ±1,
// lengths in frames (one sample of each channel). One thread at a time, not the audio thread (it reads from disk and
// throws).

#pragma once

#include <cstdint>
#include <memory>
#include <string>

namespace headland::files {

class ProgramFile {
public:
    static constexpr double sampleRateMin_hz = 44100.0;
    static constexpr double sampleRateMax_hz = 192000.0;

    /// Opens a program and makes sure that all of it is there; the kind of file is told by its content, not its name.
    /// A FLAC file is checked from end to end, which takes about as long as decoding it.
    /// Throws InputError: missing, a folder or device, unreadable, empty, no sound file, lossy, no samples, an encoding,
    /// rate or number of channels that cannot be used, truncated, damaged, contradicting itself.
    static ProgramFile open(const std::string& path);

    ProgramFile(ProgramFile&&) noexcept;
    ProgramFile& operator=(ProgramFile&&) noexcept;
    ~ProgramFile();

    double sampleRate_hz() const noexcept; ///< 44100 to 192000
    int channels() const noexcept;         ///< 1 or 2
    std::int64_t length_frames() const noexcept;
    double length_s() const noexcept;
    int bitsPerSample() const noexcept; ///< as stored
    bool isFloat() const noexcept;      ///< stored as floating point: NaN and infinity are possible
    /// E.g. "WAV, 24 bit", "WAV, 32 bit float".
    const std::string& format() const noexcept;
    /// Of the next frame to be read.
    std::int64_t position_frames() const noexcept;

    /// Reads up to `maxFrames` frames on from where the last call ended; a mono program goes to both. NaN and infinity
    /// are handed on as they are. Returns the number of frames read, 0 at the end.
    /// Throws InputError if the disk reports an error or the file has become shorter.
    int read(float* left, float* right, int maxFrames);

private:
    class Reader;
    explicit ProgramFile(std::unique_ptr<Reader> openReader);

    std::unique_ptr<Reader> reader;
};

} // namespace headland::files
