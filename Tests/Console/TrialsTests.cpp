// SPDX-License-Identifier: GPL-3.0-or-later
// Trials side by side give what they give one after another, to the last bit and in the order asked; a file that fails
// is told once all have ended, a stop ends them all.

#include "Console/Trials.h"

#include "Files/CutRun.h"
#include "Files/Errors.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <csignal>
#include <filesystem>
#include <thread>

using namespace headland;
using namespace headland::console;
using namespace headland::test;

namespace {

constexpr int rate_hz = 44100;

std::vector<cut::CutSettings> atDelays(const std::vector<double>& delays_s) {
    std::vector<cut::CutSettings> trials;
    for (const auto delay_s : delays_s)
        trials.emplace_back().preview_s = delay_s;
    return trials;
}

cut::CutSummary alone(const std::string& path, const cut::CutSettings& settings) {
    auto program = files::ProgramFile::open(path);
    cut::SummaryBuilder summary(settings);
    files::cutProgram(program, settings, summary, [](double) {});
    return summary.summary();
}

} // namespace

TEST_CASE("Trials side by side are the same bits as one after another, in the order asked", "[trials]") {
    const TestFolder folder;
    const auto path = folder / "side.wav";
    writeSound<juce::WavAudioFormat>(path, testSound(2, 6 * rate_hz), rate_hz, 24);
    const auto trials = atDelays({3.6, 0.4, 1.8, 0.9, 2.7, 1.8});
    Progress progress(false);
    const StopSignal stop;
    const auto together = cutTrials(path, trials, progress, stop);
    REQUIRE(together.size() == trials.size());
    for (std::size_t i = 0; i < trials.size(); ++i)
        CHECK(together[i] == alone(path, trials[i]));
    CHECK(together[2] == together[5]);
    CHECK_FALSE(together[0] == together[1]); // the delays matter to this side
}

TEST_CASE("No trials give no summaries", "[trials]") {
    Progress progress(false);
    CHECK(cutTrials("nowhere.wav", {}, progress, StopSignal()).empty());
}

TEST_CASE("A file that cannot be read is told on the caller's thread", "[trials]") {
    Progress progress(false);
    const StopSignal stop;
    CHECK_THROWS_AS(cutTrials("nowhere.wav", atDelays({1.8, 0.9, 3.6}), progress, stop), files::InputError);
}

TEST_CASE("A stop ends all trials promptly", "[trials]") {
    std::signal(SIGINT, SIG_DFL); // a test run in the background starts with SIGINT ignored
    const TestFolder folder;
    const auto path = folder / "side.wav";
    writeSound<juce::WavAudioFormat>(path, testSound(2, 60 * rate_hz), rate_hz, 16); // a second of work each
    Progress progress(false);
    const StopSignal stop;
    auto raised = std::chrono::steady_clock::now();
    std::thread user([&raised] {
        std::this_thread::sleep_for(std::chrono::milliseconds(300));
        raised = std::chrono::steady_clock::now();
        ::kill(::getpid(), SIGINT);
    });
    CHECK_THROWS_AS(cutTrials(path, atDelays(std::vector<double>(20, 1.8)), progress, stop), Stopped);
    const auto ended = std::chrono::steady_clock::now();
    user.join();
    CHECK(ended - raised < std::chrono::seconds(1));
}
