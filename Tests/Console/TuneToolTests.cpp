// SPDX-License-Identifier: GPL-3.0-or-later
// `headland tune`, run as a person would: what it says, its outputs, its exit codes, and that each of its delays is the
// cut that `headland cut` makes at that delay.

#include "Tests/Console/Tool.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>
#include <juce_graphics/juce_graphics.h>

#include <chrono>
#include <cmath>
#include <thread>

using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

constexpr int rate_hz = 44100;

/// Twelve seconds of near silence with one stroke of bass in the middle, loud enough to need a preview.
std::string strokeSide(const TestFolder& folder) {
    juce::AudioBuffer<float> sound(2, 12 * rate_hz);
    for (int i = 0; i < sound.getNumSamples(); ++i) {
        const auto t = i / static_cast<double>(rate_hz) - 6;
        const auto stroke = t > 0 ? 0.6 * std::exp(-4 * t) * std::sin(2 * M_PI * 50 * t) : 0.0;
        for (int channel = 0; channel < 2; ++channel)
            sound.setSample(channel, i, static_cast<float>(stroke));
    }
    writeSound<juce::WavAudioFormat>(folder / "side.wav", sound, rate_hz, 24);
    return folder / "side.wav";
}

juce::var jsonOf(const std::string& path) {
    return juce::JSON::parse(juce::File(path));
}

} // namespace

TEST_CASE("Tune gives for each delay the very figures of a cut at that delay") {
    const TestFolder folder;
    const auto side = strokeSide(folder);
    const auto result = runTool({"tune", side, "--set", "disc_level_db=3", "--json", folder / "t.json"});
    REQUIRE(result.code == 0);
    CHECK(result.err.empty());
    CHECK_THAT(result.out, StartsWith("Program") && Contains("< recommended") && Contains("as set\n")
                               && Contains("\nRecommended "));
    const auto report = jsonOf(folder / "t.json");
    REQUIRE(report["delays"].size() == 10);
    auto clean = 0, spoilt = 0;
    for (const auto index : {0, 2, 3, 9}) {
        const auto& delay = report["delays"][index];
        const auto cut = runTool({"cut", side, "--quiet", "--set", "disc_level_db=3", "--set",
                                  ("preview_s=" + delay["delay_s"].toString()).toStdString(), "--json",
                                  folder / "c.json"});
        const auto summary = jsonOf(folder / "c.json")["summary"];
        (cut.code == 0 ? clean : spoilt) += 1;
        CHECK(static_cast<bool>(delay["can_be_cut"]) == (cut.code == 0));
        CHECK(delay["verdict_line"] == summary["verdict_line"]);
        CHECK(delay["used_mm"] == summary["used_mm"]);
        CHECK(delay["end_diameter_mm"] == summary["end_diameter_mm"]);
        CHECK(delay["land_least"]["land_um"] == summary["land_least"]["land_um"]);
        CHECK(delay["short_sectors"] == summary["flags"]["preview-short"]["sectors"]);
        CHECK(delay["short_passages"] == summary["flags"]["preview-short"]["passages"]);
    }
    CHECK(clean > 0); // or the side says nothing of delays
    CHECK(spoilt > 0);

    const auto delay_s = "preview_s=" + report["recommendation"]["delay_s"].toString().toStdString();
    const auto steady = report["recommendation"]["steady_pitch_percent"].toString().toStdString();
    const auto check = [&](const juce::var& trial, const std::string& setting) {
        runTool({"cut", side, "--quiet", "--set", "disc_level_db=3", "--set", delay_s, "--set",
                 "steady_pitch_percent=" + steady, "--set", setting, "--json", folder / "c.json"});
        const auto summary = jsonOf(folder / "c.json")["summary"];
        CHECK(trial["used_mm"] == summary["used_mm"]);
        CHECK(trial["pitch_travel_um_per_turn"] == summary["pitch_travel_um_per_turn"]);
    };
    REQUIRE(report["steadiness"].size() == 5);
    check(report["steadiness"][0], "steady_pitch_percent=0");
    check(report["steadiness"][4], "steady_pitch_percent=4");
    CHECK(report["steadiness"][0]["used_mm"] != report["steadiness"][4]["used_mm"]);
    REQUIRE(report["better_known"].size() == 1);
    check(report["better_known"][0], "speed_tolerance=0.0002");
}

TEST_CASE("Where no delay will do, steadiness is not tried") {
    const TestFolder folder;
    const auto result = runTool({"tune", strokeSide(folder), "--set", "disc_level_db=12", "--set",
                                 "pitch_slew_um_per_rev_s=25", "--json", folder / "t.json"});
    REQUIRE(result.code == 0);
    CHECK_THAT(result.out, Contains("None will do") && !Contains("steady pitch"));
    CHECK(jsonOf(folder / "t.json")["steadiness"].size() == 0);
}

TEST_CASE("Tune says the same every time, quiet in one line, and takes presets and settings as cut does") {
    const TestFolder folder;
    const auto side = strokeSide(folder);
    const auto once = runTool({"tune", side});
    CHECK(once.out == runTool({"tune", side}).out);
    const auto quiet = runTool({"tune", side, "--quiet", "--preset", "17cm-45", "--set", "preview_s=1.1"});
    CHECK(quiet.code == 0);
    CHECK_THAT(quiet.out, StartsWith("Recommended: "));
    CHECK(std::count(quiet.out.begin(), quiet.out.end(), '\n') == 1);
    CHECK_THAT(runTool({"tune", side, "--preset", "17cm-45", "--set", "preview_s=1.1"}).out,
               Contains("\n1.100   0.83") && Contains("\n5.333   4.00"));
    CHECK_THAT(runTool({"tune", side, "--set", "preview_tolerance_s=0.47"}).out,
               Contains("\nLeft out         0.45 s (0.25 turns): preview_s (0.45 s) is used up"));
}

TEST_CASE("Tune draws its picture as SVG and as PNG and leaves nothing else") {
    const TestFolder folder;
    const auto side = strokeSide(folder);
    REQUIRE(runTool({"tune", side, "--quiet", "--picture", folder / "a.svg"}).code == 0);
    REQUIRE(runTool({"tune", side, "--quiet", "--picture", folder / "a.png"}).code == 0);
    CHECK(folder.count() == 3);
    CHECK(juce::parseXML(juce::File(folder / "a.svg")) != nullptr);
    const auto image = juce::ImageFileFormat::loadFrom(juce::File(folder / "a.png"));
    CHECK(image.getWidth() == 1600);
    CHECK(image.getHeight() == 1000);
}

TEST_CASE("Tune refuses bad input, all of it at once: 2, an output that cannot be written: 4") {
    const TestFolder folder;
    const auto result = runTool({"tune", folder / "missing.wav", "--preset", "nonesuch", "--set", "land=12",
                                 "--set", "preview_s=99", "--picture", folder / "x.gif"});
    CHECK(result.code == 2);
    for (const auto* part : {"missing.wav", "nonesuch", "'land'", "preview_s is 99 s", "x.gif"})
        CHECK_THAT(result.err, Contains(part));
    CHECK(std::count(result.err.begin(), result.err.end(), '\n') == 5);
    const auto side = strokeSide(folder);
    CHECK(runTool({"tune", side, "--json", side}).code == 2);
    CHECK(runTool({"tune", side, "--csv", folder / "x.csv"}).code == 2); // cut's, not tune's
    CHECK(runTool({"tune", side, "--json", folder / "no/such/a.json"}).code == 4);
    CHECK(folder.count() == 1);
}

TEST_CASE("Tune stopped by a signal: 130, nothing left behind") {
    const TestFolder folder;
    juce::AudioBuffer<float> sound(1, 300 * rate_hz); // ten cuts of it take seconds
    sound.clear();
    writeSound<juce::WavAudioFormat>(folder / "long.wav", sound, rate_hz, 16);
    ToolRun run({"tune", folder / "long.wav", "--json", folder / "a.json"});
    for (int tries = 0; folder.count() < 2 && tries < 3000; ++tries)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    REQUIRE(folder.count() == 2); // the output is open: the work has begun
    run.signal(SIGINT);
    const auto result = run.wait();
    CHECK(result.code == 130);
    CHECK(result.out.empty());
    CHECK(folder.count() == 1);
}
