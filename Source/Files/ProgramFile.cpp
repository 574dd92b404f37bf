// SPDX-License-Identifier: GPL-3.0-or-later

#include "Files/ProgramFile.h"

#include "Files/Errors.h"
#include "Files/InputBytes.h"
#include "Files/Integrity.h"

#include <juce_audio_formats/juce_audio_formats.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstring>

namespace headland::files {

namespace {

using MakeReader = std::unique_ptr<juce::AudioFormatReader> (*)(std::unique_ptr<InputBytes>);
using FindFault = std::optional<std::string> (*)(const std::string& path);

template <typename Format>
std::unique_ptr<juce::AudioFormatReader> makeReader(std::unique_ptr<InputBytes> bytes) {
    return std::unique_ptr<juce::AudioFormatReader>(Format().createReaderFor(bytes.release(), true));
}

std::optional<std::string> noFaultKnownYet(const std::string&) {
    return std::nullopt;
}

/// One kind of file: how it begins, what reads it, what checks it from end to end before it is read.
struct Kind {
    const char* firstFour;
    const char* name;
    bool isPcm; // samples as they are: what is missing shows when the last one is read
    MakeReader makeReader;
    FindFault findFault;
};

constexpr std::array<Kind, 5> kinds{{
    {"RIFF", "WAV", true, makeReader<juce::WavAudioFormat>, noFaultKnownYet},
    {"RF64", "WAV", true, makeReader<juce::WavAudioFormat>, noFaultKnownYet},
    {"FORM", "AIFF", true, makeReader<juce::AiffAudioFormat>, noFaultKnownYet},
    {"fLaC", "FLAC", false, makeReader<juce::FlacAudioFormat>, faultInFlac},
    {"OggS", "Ogg Vorbis", false, makeReader<juce::OggVorbisAudioFormat>, faultInOgg},
}};

const Kind* findKind(InputBytes& bytes) {
    std::array<char, 4> start{};
    bytes.read(start.data(), 4);
    bytes.setPosition(0);
    const auto* found = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& kind) {
        return std::memcmp(start.data(), kind.firstFour, start.size()) == 0;
    });
    return found == kinds.end() ? nullptr : found;
}

[[noreturn]] void refuse(const std::string& path, const std::string& whatAndRemedy) {
    throw InputError('"' + path + "\" " + whatAndRemedy);
}

std::string decimal(double value, int places) {
    std::array<char, 64> text{};
    std::snprintf(text.data(), text.size(), "%.*f", places, value);
    return text.data();
}

std::string describe(const Kind& kind, const juce::AudioFormatReader& reader) {
    std::string text = kind.name;
    if (text != "Ogg Vorbis") // a lossy stream has no word length
        text += ", " + std::to_string(reader.bitsPerSample)
                + (reader.usesFloatingPointData ? " bit float" : " bit");
    return text;
}

void checkRateAndChannels(const std::string& path, const juce::AudioFormatReader& reader) {
    if (reader.sampleRate < ProgramFile::sampleRateMin_hz
        || reader.sampleRate > ProgramFile::sampleRateMax_hz)
        refuse(path, "has a sample rate of " + decimal(reader.sampleRate, 0) + " Hz, and programs are cut at "
                         + decimal(ProgramFile::sampleRateMin_hz, 0) + " to "
                         + decimal(ProgramFile::sampleRateMax_hz, 0) + " Hz: convert it first.");
    if (reader.numChannels > 2)
        refuse(path,
               "has " + std::to_string(reader.numChannels)
                   + " channels, and for now a program has one or two (preview tracks in the same file come "
                     "later): give it as a stereo file.");
}

void checkEncoding(const std::string& path, const juce::AudioFormatReader& reader) {
    const auto bits = reader.bitsPerSample;
    const bool isReadable =
        reader.usesFloatingPointData ? bits == 32 : bits == 8 || bits == 16 || bits == 24 || bits == 32;
    if (!isReadable)
        refuse(path, "stores its samples as " + std::to_string(bits)
                         + (reader.usesFloatingPointData ? " bit floating point" : " bit integers")
                         + ", which cannot be read: save it as 16 or 24 bit PCM or 32 bit float.");
}

void checkThatThereIsSound(const std::string& path, const juce::AudioFormatReader& reader,
                           juce::int64 size_bytes) {
    if (reader.lengthInSamples > 0)
        return;
    constexpr juce::int64 plainHeader_bytes = 1024; // a header alone, even with a few tags, is smaller
    if (size_bytes <= plainHeader_bytes)
        refuse(path, "holds no samples: export the program again.");
    refuse(
        path,
        "holds " + std::to_string(size_bytes)
            + " bytes, but its header speaks of no PCM samples (never finished, or another encoding inside): "
              "export it again as 16 or 24 bit PCM or 32 bit float.");
}

/// Reads the last frame: a file that is shorter than its header says shows it there, and JUCE would give silence.
void checkThatLastFrameIsThere(const std::string& path, juce::AudioFormatReader& reader, InputBytes& bytes) {
    std::array<float, 2> frame{};
    const std::array<float*, 2> channels{&frame[0], &frame[1]};
    bytes.forgetShortReads();
    reader.read(channels.data(), static_cast<int>(reader.numChannels), reader.lengthInSamples - 1, 1);
    if (!bytes.cameUpShort())
        return;

    // 0xFFFFFFFF, 0x7FFFFFFF or nearly: what programs write that do not know the length.
    constexpr juce::int64 unknownLength_bytes = 0x7fff0000;
    if (reader.lengthInSamples * reader.numChannels * (reader.bitsPerSample / 8) >= unknownLength_bytes
        && bytes.getTotalLength() < unknownLength_bytes)
        refuse(
            path,
            "does not say how long it is (it was written to a pipe, or never finished), so nobody can tell "
            "whether it is whole: export it again to a file.");
    refuse(path, "is truncated: its header promises "
                     + decimal(static_cast<double>(reader.lengthInSamples) / reader.sampleRate, 3)
                     + " s, but the file ends before that: copy or export it again.");
}

/// A WAV header counts modulo 4 GiB; a greater file under such a header would lose most of its sound unsaid.
void checkThatNothingIsLeftOver(const std::string& path, const juce::AudioFormatReader& reader,
                                juce::int64 size_bytes) {
    constexpr juce::int64 headerModulus_bytes = juce::int64{1} << 32;
    const auto sound_bytes = reader.lengthInSamples * reader.numChannels * (reader.bitsPerSample / 8);
    if (size_bytes - sound_bytes >= headerModulus_bytes)
        refuse(path, "is larger than its header can say (4 GiB), which speaks of only "
                         + decimal(static_cast<double>(reader.lengthInSamples) / reader.sampleRate, 3)
                         + " s: export it as RF64 or FLAC.");
}

std::unique_ptr<juce::AudioFormatReader> openReader(const std::string& path, const Kind& kind,
                                                    std::unique_ptr<InputBytes> bytes) {
    std::unique_ptr<juce::AudioFormatReader> reader;
    try {
        reader = kind.makeReader(std::move(bytes));
    } catch (const InputBytes::ReadingOn&) {
        refuse(path, std::string("is truncated: it ends inside the header of a ") + kind.name
                         + " file: copy or export it again.");
    }
    if (!reader)
        refuse(
            path,
            std::string("begins like a file of the kind ") + kind.name
                + ", but its header is damaged, unfinished or of an encoding that cannot be read: export it "
                  "again as 16 or 24 bit PCM or 32 bit float.");
    return reader;
}

} // namespace

ProgramFile ProgramFile::open(const std::string& path) {
    auto ownBytes = std::make_unique<InputBytes>(path);
    auto& bytes = *ownBytes;
    const auto size_bytes = bytes.getTotalLength();
    if (size_bytes == 0)
        refuse(path, "is empty (0 bytes): export the program again.");
    const Kind* const kind = findKind(bytes);
    if (kind == nullptr)
        refuse(path, "is no sound file that can be read: give a WAV, AIFF, FLAC or Ogg Vorbis file.");
    if (const auto fault = kind->findFault(path))
        refuse(path, *fault + ": copy or export it again.");

    auto reader = openReader(path, *kind, std::move(ownBytes));
    checkRateAndChannels(path, *reader);
    checkThatThereIsSound(path, *reader, size_bytes);
    if (kind->isPcm) {
        checkEncoding(path, *reader);
        checkThatLastFrameIsThere(path, *reader, bytes);
        checkThatNothingIsLeftOver(path, *reader, size_bytes);
    }
    auto format = describe(*kind, *reader);
    return ProgramFile(path, std::move(format), std::move(reader), bytes);
}

ProgramFile::ProgramFile(std::string name, std::string formatText,
                         std::unique_ptr<juce::AudioFormatReader> openReader, InputBytes& openBytes)
    : path(std::move(name)),
      format_(std::move(formatText)),
      reader(std::move(openReader)),
      bytes(&openBytes) {}

ProgramFile::ProgramFile(ProgramFile&&) noexcept = default;
ProgramFile& ProgramFile::operator=(ProgramFile&&) noexcept = default;
ProgramFile::~ProgramFile() = default;

double ProgramFile::sampleRate_hz() const noexcept {
    return reader->sampleRate;
}

int ProgramFile::channels() const noexcept {
    return static_cast<int>(reader->numChannels);
}

std::int64_t ProgramFile::length_frames() const noexcept {
    return reader->lengthInSamples;
}

double ProgramFile::length_s() const noexcept {
    return static_cast<double>(length_frames()) / sampleRate_hz();
}

int ProgramFile::bitsPerSample() const noexcept {
    return static_cast<int>(reader->bitsPerSample);
}

bool ProgramFile::isFloat() const noexcept {
    return reader->usesFloatingPointData;
}

int ProgramFile::read(float* left, float* right, int maxFrames) {
    const auto count_frames =
        static_cast<int>(std::min<std::int64_t>(maxFrames, length_frames() - next_frames));
    if (count_frames <= 0)
        return 0;
    bytes->forgetShortReads();
    const std::array<float*, 2> destinations{left, right};
    const bool isRead = reader->read(destinations.data(), channels(), next_frames, count_frames);
    if (!isRead || !bytes->failure().empty())
        refuse(path, "cannot be read further at "
                         + decimal(static_cast<double>(next_frames) / sampleRate_hz(), 3) + " s ("
                         + (bytes->failure().empty() ? "the decoder gives up" : bytes->failure())
                         + "): check the disk and export it again.");
    if (channels() == 1)
        std::copy_n(left, count_frames, right);
    next_frames += count_frames;
    return count_frames;
}

} // namespace headland::files
