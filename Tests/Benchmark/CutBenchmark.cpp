// SPDX-License-Identifier: GPL-3.0-or-later
// Speed and memory of the finished tool: `headland cut` beside ffmpeg's loudness measurement on the same file in the same
// run, by the processor time and the greatest resident memory of the whole processes, as the system counts them.
// Run by: cmake --build build/release --target benchmark

#include "Cut/CutEngine.h"
#include "Tests/Benchmark/Cost.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Reference/Command.h"
#include "Tests/Support/Median.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <vector>

using namespace headland;
using namespace headland::test;

namespace {

constexpr int rounds = 5;
constexpr double greatestRatio = 1.0;
constexpr double greatestMemory_mb = 100;

Cost cutCost(const std::string& file) {
    const auto cost = costOf({HEADLAND_TOOL, "cut", file, "--quiet"});
    REQUIRE((cost.code == 0 || cost.code == 3)); // whether such a side can be cut is not the question here
    return cost;
}

Cost loudnessCost(const std::string& file) {
    const auto cost =
        costOf({"ffmpeg", "-nostdin", "-i", file, "-af", "ebur128=peak=true", "-f", "null", "-"});
    REQUIRE(cost.code == 0);
    return cost;
}

} // namespace

TEST_CASE("cutting takes no more processor time than measuring loudness does", "[process]") {
    const TestFolder folder;
    const auto side = folder / "side.wav";
    makeProgram(side, 20 * 60);
    std::vector<double> cut_s, loudness_s;
    std::printf("20 minutes, 44.1 kHz, stereo, 16 bit\n");
    for (int i = 0; i < rounds; ++i) {
        const auto cut = cutCost(side), loudness = loudnessCost(side);
        std::printf("  headland cut %5.2f s %6.1f MB    ffmpeg ebur128 %5.2f s %6.1f MB    ratio %.2f\n",
                    cut.cpu_s, cut.memory_mb, loudness.cpu_s, loudness.memory_mb, cut.cpu_s / loudness.cpu_s);
        std::fflush(stdout);
        CHECK(cut.memory_mb <= greatestMemory_mb);
        cut_s.push_back(cut.cpu_s);
        loudness_s.push_back(loudness.cpu_s);
    }
    const auto ratio = test::median(cut_s) / test::median(loudness_s);
    std::printf("  ratio of the medians %.2f, at most %.2f\n", ratio, greatestRatio);
    CHECK(ratio <= greatestRatio);
}

TEST_CASE("memory does not grow with the file", "[process]") {
    const TestFolder folder;
    const auto shortSide = folder / "5.wav", longSide = folder / "40.wav";
    makeProgram(shortSide, 5 * 60);
    std::string eightTimes;
    for (int i = 0; i < 8; ++i)
        eightTimes += quoted(shortSide) + " ";
    runCommand("sox -V1 " + eightTimes + quoted(longSide));
    const auto few = cutCost(shortSide), many = cutCost(longSide);
    std::printf("greatest memory: 5 minutes %.1f MB, 40 minutes %.1f MB\n", few.memory_mb, many.memory_mb);
    CHECK(many.cpu_s > 4 * few.cpu_s); // it was really cut to its end
    CHECK(many.memory_mb <= few.memory_mb + 2);
    CHECK(many.memory_mb <= greatestMemory_mb);
}

TEST_CASE("one second of program through the engine", "[engine]") {
    constexpr int rate_hz = 44100;
    std::vector<float> left, right;
    for (int i = 0; i < rate_hz; ++i) {
        left.push_back(static_cast<float>(0.1 * std::sin(0.031 * i) + 0.02 * std::sin(0.7 * i)));
        right.push_back(static_cast<float>(0.1 * std::sin(0.029 * i) + 0.02 * std::sin(0.9 * i)));
    }
    struct : cut::FrameSink {
        void frame(const cut::CutFrame& f) noexcept override { last = f; }
        cut::CutFrame last{};
    } sink;
    for (const auto sectors : {256, 800}) {
        cut::CutSettings settings;
        settings.sectors_per_turn = sectors;
        cut::CutEngine engine;
        engine.prepare(settings, rate_hz);
        for (int i = 0; i < 10; ++i) // past the lead-in
            engine.process(left.data(), right.data(), rate_hz, sink);
        BENCHMARK(std::to_string(sectors) + " sectors a turn") {
            engine.process(left.data(), right.data(), rate_hz, sink);
            return sink.last.landMin_um;
        };
        CHECK(sink.last.state == cut::State::program);
    }
}
