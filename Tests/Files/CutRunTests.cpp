// SPDX-License-Identifier: GPL-3.0-or-later
// A file that is cut gives the frames that the engine gives for its samples, tells of bad samples, and can
// be ended between blocks.

#include "Files/CutRun.h"

#include "Cut/CutEngine.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <cstring>
#include <limits>
#include <stdexcept>
#include <vector>

using namespace headland;
using namespace headland::files;
using namespace headland::test;

namespace {

struct Kept : cut::FrameSink {
    void frame(const cut::CutFrame& frame) noexcept override { frames.push_back(frame); }
    std::vector<cut::CutFrame> frames;
};

const BetweenBlocks goOn = [](double) {};

} // namespace

TEST_CASE("A file's frames are the engine's for its samples") {
    const TestFolder folder;
    const auto sound = testSound(2, 3 * 44100 + 17);
    writeSound<juce::WavAudioFormat>(folder / "side.wav", sound, 44100, 24);
    const cut::CutSettings settings;
    Kept fromFile, direct;
    auto program = files::ProgramFile::open(folder / "side.wav");
    const auto outcome = cutProgram(program, settings, fromFile, goOn);
    cut::CutEngine engine;
    engine.prepare(settings, 44100);
    engine.process(sound.getReadPointer(0), sound.getReadPointer(1), sound.getNumSamples(), direct);
    engine.finish(direct);
    CHECK(outcome.badSamples == 0);
    REQUIRE(fromFile.frames.size() == direct.frames.size());
    REQUIRE(direct.frames.size() > 500);
    for (std::size_t i = 0; i < direct.frames.size(); ++i) {
        REQUIRE(fromFile.frames[i].radius_mm == direct.frames[i].radius_mm);
        REQUIRE(fromFile.frames[i].widthMin_um == direct.frames[i].widthMin_um);
        REQUIRE(fromFile.frames[i].flags == direct.frames[i].flags);
    }
}

TEST_CASE("Bad samples are counted, with the place of the first") {
    const TestFolder folder;
    auto sound = testSound(2, 44100);
    sound.setSample(0, 22050, std::numeric_limits<float>::quiet_NaN());
    sound.setSample(1, 33000, std::numeric_limits<float>::infinity());
    writeSound<juce::WavAudioFormat>(folder / "bad.wav", sound, 44100, 32);
    Kept kept;
    auto program = files::ProgramFile::open(folder / "bad.wav");
    const auto outcome = cutProgram(program, cut::CutSettings{}, kept, goOn);
    CHECK(outcome.badSamples == 2);
    CHECK(outcome.firstBadSample_s == Approx(0.5).margin(1e-4));
}

TEST_CASE("How far the cut is grows from 0 to 1, also after the program's end, and a throw ends it") {
    const TestFolder folder;
    writeSound<juce::WavAudioFormat>(folder / "side.wav", testSound(1, 44100), 44100, 16);
    Kept kept;
    std::vector<double> seen;
    auto program = files::ProgramFile::open(folder / "side.wav");
    cutProgram(program, cut::CutSettings{}, kept, [&seen](double fraction) { seen.push_back(fraction); });
    REQUIRE(seen.size() > 10);
    CHECK(seen.front() == 0);
    CHECK(seen.back() == 1);
    auto again = files::ProgramFile::open(folder / "side.wav");
    auto calls = 0;
    CHECK_THROWS_WITH(cutProgram(again, cut::CutSettings{}, kept,
                                 [&calls](double) {
                                     if (++calls == 3)
                                         throw std::runtime_error("enough");
                                 }),
                      "enough");
    CHECK(calls == 3);
}
