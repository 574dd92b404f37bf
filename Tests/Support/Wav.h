// SPDX-License-Identifier: GPL-3.0-or-later
// Programs as files, in a folder of their own, for tests that go through JUCE.
#pragma once

#include "Tests/Cut/TestPrograms.h"

#include <juce_audio_formats/juce_audio_formats.h>

#include <catch2/catch.hpp>

#include <string>

namespace headland::test {

/// A folder that goes with the test.
struct Folder {
    Folder() { place.createDirectory(); }
    ~Folder() { place.deleteRecursively(); }
    std::string path(const char* name) const {
        return place.getChildFile(name).getFullPathName().toStdString();
    }
    juce::File place = juce::File::getSpecialLocation(juce::File::tempDirectory)
                           .getChildFile("headland-test-" + juce::Uuid().toString());
};

/// Stereo, 32 bit.
inline void writeWav(const std::string& path, const Program& program) {
    juce::WavAudioFormat wav;
    juce::File file(path);
    std::unique_ptr<juce::AudioFormatWriter> writer(
        wav.createWriterFor(file.createOutputStream().release(), program.rate_hz, 2, 32, {}, 0));
    const float* channels[] = {program.left.data(), program.right.data()};
    REQUIRE(writer->writeFromFloatArrays(channels, 2, static_cast<int>(program.length())));
}

} // namespace headland::test
