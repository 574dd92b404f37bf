// SPDX-License-Identifier: GPL-3.0-or-later
// A program on disk: WAV, AIFF, FLAC or Ogg Vorbis, read from start to end in blocks with JUCE's readers. What cannot
// be cut is refused at the start, in words; memory does not grow with the file. Full scale = ±1, lengths in frames (one
// sample of each channel). One thread at a time, not the audio thread (it reads from disk and throws).

#pragma once

#include <cstdint>
#include <memory>
#include <string>

namespace juce {
class AudioFormatReader;
}

namespace headland::files {

class InputBytes;

class ProgramFile {
public:
    static constexpr double sampleRateMin_hz = 44100.0;
    static constexpr double sampleRateMax_hz = 192000.0;

    /// Opens a program and makes sure that all of it is there; the kind of file is told by its content, not its name.
    /// Compressed files are checked from end to end, which for FLAC takes about as long as decoding it.
    /// Throws InputError: missing, a folder or device, unreadable, empty, no sound file, no samples, an encoding, rate
    /// or number of channels that cannot be used, truncated, damaged.
    static ProgramFile open(const std::string& path);

    ProgramFile(ProgramFile&&) noexcept;
    ProgramFile& operator=(ProgramFile&&) noexcept;
    ~ProgramFile();

    double sampleRate_hz() const noexcept; ///< 44100 to 192000
    int channels() const noexcept;         ///< 1 or 2
    std::int64_t length_frames() const noexcept;
    double length_s() const noexcept;
    int bitsPerSample() const noexcept; ///< as stored; 16 is said of Ogg Vorbis, which has no such number
    bool isFloat() const noexcept;      ///< stored as floating point: NaN and infinity are possible
    /// E.g. "WAV, 24 bit", "WAV, 32 bit float", "Ogg Vorbis".
    const std::string& format() const noexcept { return format_; }
    /// Of the next frame to be read.
    std::int64_t position_frames() const noexcept { return next_frames; }

    /// Reads up to `maxFrames` frames on from where the last call ended; a mono program goes to both. NaN and infinity
    /// are handed on as they are. Returns the number of frames read, 0 at the end.
    /// Throws InputError if the disk reports an error or the file has become shorter.
    int read(float* left, float* right, int maxFrames);

private:
    ProgramFile(std::string name, std::string formatText, std::unique_ptr<juce::AudioFormatReader> openReader,
                InputBytes& openBytes);

    std::string path;
    std::string format_;
    std::unique_ptr<juce::AudioFormatReader> reader;
    InputBytes* bytes = nullptr; // belongs to the reader
    std::int64_t next_frames = 0;
};

} // namespace headland::files
