// SPDX-License-Identifier: GPL-3.0-or-later
// Sound files for the tests, written by JUCE's writers: a ramp that is different in every sample and channel, so that a
// sample in the wrong place or channel shows. Full scale = ±1.

#pragma once

#include <juce_audio_formats/juce_audio_formats.h>

#include <memory>
#include <stdexcept>
#include <string>

namespace headland::test {

/// What the test's sound is at a frame: a slow triangle, channels opposed in sign and different in size, representable
/// in 16 bits exactly.
inline float soundAt(int channel, juce::int64 frame) {
    const auto step = static_cast<int>((frame * 7) % 32768);
    const int value = channel == 0 ? step - 16384 : 8192 - step / 2;
    return static_cast<float>(value) / 32768.0f;
}

inline juce::AudioBuffer<float> testSound(int channels, int length_frames) {
    juce::AudioBuffer<float> sound(channels, length_frames);
    for (int channel = 0; channel < channels; ++channel)
        for (int frame = 0; frame < length_frames; ++frame)
            sound.setSample(channel, frame, soundAt(channel, frame));
    return sound;
}

/// Writes the buffer; `Format` is e.g. juce::WavAudioFormat. JUCE writes 32 bit WAV as floating point.
template <typename Format>
void writeSound(const std::string& path, const juce::AudioBuffer<float>& sound, double sampleRate_hz,
                int bits) {
    juce::File file(path);
    file.deleteFile();
    auto stream = std::make_unique<juce::FileOutputStream>(file);
    std::unique_ptr<juce::AudioFormatWriter> writer(Format().createWriterFor(
        stream.get(), sampleRate_hz, static_cast<unsigned>(sound.getNumChannels()), bits, {}, 5));
    if (writer == nullptr)
        throw std::runtime_error("JUCE cannot write " + path);
    stream.release(); // the writer has it now
    if (!writer->writeFromAudioSampleBuffer(sound, 0, sound.getNumSamples()))
        throw std::runtime_error("cannot write " + path);
}

} // namespace headland::test
