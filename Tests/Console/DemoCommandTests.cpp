// SPDX-License-Identifier: GPL-3.0-or-later
// `headland demo`: the file holds the demo program to the bit, is the same every time, and is whole or not there.

#include "Console/DemoCommand.h"

#include "Console/ExitCode.h"
#include "Demo/DemoProgram.h"
#include "Files/Errors.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>
#include <juce_audio_formats/juce_audio_formats.h>

#include <cmath>
#include <csignal>
#include <memory>
#include <sys/resource.h>
#include <vector>

using headland::console::ExitCode;
using headland::console::writeDemo;
using headland::files::OutputError;
using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;

namespace {

constexpr int done = static_cast<int>(ExitCode::done);
constexpr int stopped = static_cast<int>(ExitCode::stopped);

std::unique_ptr<juce::AudioFormatReader> openWav(const std::string& path) {
    return std::unique_ptr<juce::AudioFormatReader>(
        juce::WavAudioFormat().createReaderFor(new juce::FileInputStream(juce::File(path)), true));
}

/// Whether the file holds this; the content itself may be too long to be printed.
bool holds(const std::string& path, const std::string& content) {
    return contentOf(path) == content;
}

/// The sentence writeDemo refuses with; empty if it does not.
std::string refusalOf(const std::string& path) {
    try {
        writeDemo(path, false);
    } catch (const OutputError& error) {
        return error.what();
    }
    return {};
}

/// While it lives, this process's files may not grow beyond the limit: a full disk, as far as a program can tell.
class FullDisk {
public:
    explicit FullDisk(rlim_t limit_bytes) : previousHandler(std::signal(SIGXFSZ, SIG_IGN)) {
        ::getrlimit(RLIMIT_FSIZE, &previous);
        const rlimit limit{limit_bytes, previous.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &limit);
    }
    ~FullDisk() {
        ::setrlimit(RLIMIT_FSIZE, &previous);
        std::signal(SIGXFSZ, previousHandler);
    }
    FullDisk(const FullDisk&) = delete;
    FullDisk& operator=(const FullDisk&) = delete;

private:
    void (*previousHandler)(int);
    rlimit previous{};
};

} // namespace

TEST_CASE("The demo file is 24-bit 44.1 kHz stereo, holds the demo program to the last bit, every time, and "
          "replaces an older one") {
    const TestFolder folder;
    REQUIRE(writeDemo(folder / "demo.wav", false) == done);
    CHECK(folder.count() == 1);

    const auto reader = openWav(folder / "demo.wav");
    REQUIRE(reader != nullptr);
    CHECK(reader->sampleRate == 44100);
    CHECK(reader->bitsPerSample == 24);
    CHECK_FALSE(reader->usesFloatingPointData);
    CHECK(reader->numChannels == 2);
    CHECK(reader->metadataValues[juce::WavAudioFormat::riffInfoTitle] == headland::demo::title);

    headland::demo::DemoProgram program(44100);
    REQUIRE(reader->lengthInSamples == program.length());
    const int block = 44100;
    juce::AudioBuffer<float> written(2, block), expected(2, block);
    float greatestError = 0;
    for (juce::int64 at = 0; at < program.length(); at += block) {
        REQUIRE(reader->read(&written, 0, block, at, true, true));
        program.render(expected.getWritePointer(0), expected.getWritePointer(1), block);
        for (int channel = 0; channel < 2; ++channel)
            for (int i = 0; i < block; ++i)
                greatestError = std::max(
                    greatestError, std::abs(written.getSample(channel, i) - expected.getSample(channel, i)));
    }
    CHECK(greatestError <= std::ldexp(1.0f, -23));

    put(folder / "second.wav", "older");
    std::vector<double> fractions;
    const auto keep = [&](double fraction) {
        fractions.push_back(fraction);
        return true;
    };
    REQUIRE(writeDemo(folder / "second.wav", true, keep) == done);
    CHECK(holds(folder / "second.wav", contentOf(folder / "demo.wav")));
    CHECK(folder.count() == 2);
    CHECK(fractions.size() > 100);
    CHECK(fractions.front() == 0);
    CHECK(fractions.back() == 1);
    CHECK(std::is_sorted(fractions.begin(), fractions.end()));
}

TEST_CASE("The demo command stops when it is told to and leaves the folder as it was") {
    const TestFolder folder;
    put(folder / "old.wav", "older");
    for (const double stopAt : {0.0, 0.02}) {
        INFO("stopped at " << stopAt);
        const auto stopThere = [=](double fraction) { return fraction < stopAt; };
        CHECK(writeDemo(folder / "new.wav", false, stopThere) == stopped);
        CHECK(writeDemo(folder / "old.wav", true, stopThere) == stopped);
        CHECK(folder.count() == 1);
        CHECK(holds(folder / "old.wav", "older"));
    }
    // At the very end, when all is written.
    const auto stopAtEnd = [](double fraction) { return fraction < 1; };
    CHECK(writeDemo(folder / "new.wav", false, stopAtEnd) == stopped);
    CHECK(writeDemo(folder / "old.wav", true, stopAtEnd) == stopped);
    CHECK(holds(folder / "old.wav", "older"));
    CHECK_THROWS_AS(writeDemo(folder / "new.wav", false, [](double) -> bool { throw 1; }), int);
    CHECK(folder.count() == 1);
}

TEST_CASE("The demo command refuses a place that cannot be written before it begins") {
    const TestFolder folder;
    const auto never = [](double) -> bool { throw std::logic_error("the work had begun"); };
    CHECK_THROWS_AS(writeDemo(folder / "nowhere/demo.wav", false, never), OutputError);
    for (const auto& path : {folder / "nowhere/demo.wav", folder.path().string()}) {
        const auto text = refusalOf(path);
        CHECK_THAT(text, Contains('"' + path + '"') && EndsWith("."));
    }
    CHECK(folder.count() == 0);
}

TEST_CASE("The demo command says that the disk is full and leaves nothing") {
    const TestFolder folder;
    put(folder / "old.wav", "older");
    for (const rlim_t limit_bytes : {rlim_t{50}, rlim_t{2'000'000}}) {
        const FullDisk disk(limit_bytes);
        for (const auto& path : {folder / "new.wav", folder / "old.wav"}) {
            int blocks = 0;
            const auto count = [&](double) {
                ++blocks;
                return true;
            };
            CHECK_THROWS_WITH(writeDemo(path, true, count),
                              Contains('"' + path + '"') && Contains("File too large") && EndsWith("."));
            CHECK(blocks < 100); // of 1292: it does not play on for nothing
        }
    }
    CHECK(folder.count() == 1);
    CHECK(holds(folder / "old.wav", "older"));
}

TEST_CASE("The demo command leaves a file that is there already as it is, unless it is told to replace it") {
    const TestFolder folder;
    put(folder / "side.wav", "the master");
    CHECK_THROWS_WITH(writeDemo(folder / "side.wav", false),
                      Contains(folder / "side.wav") && Contains("is there already") && Contains("--force"));
    CHECK(contentOf(folder / "side.wav") == "the master");
    CHECK(folder.count() == 1);
}
