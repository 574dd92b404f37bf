// SPDX-License-Identifier: GPL-3.0-or-later
// `headland fit` as a person runs it, on sides whose answer is a closed form of docs/theory/groove.md, and held against
// `headland cut` at the answer and a tenth above it.

#include "Tests/Console/Tool.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numbers>
#include <thread>

using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using std::numbers::pi;

namespace {

constexpr int rate_hz = 44100;
constexpr double turn_s = 1.8;        // 33 1/3 rpm, the default
constexpr double start_mm = 146.3;    // the default
constexpr double silent_um = 50 + 12; // two half-widths and the land, at the defaults

/// A tone in both channels, faded in and out within a second, so that its beginning and end are no clicks.
std::string toneSide(const TestFolder& folder, double frequency_hz, double peak, double length_s) {
    const auto length_frames = static_cast<int>(length_s * rate_hz);
    juce::AudioBuffer<float> sound(1, length_frames);
    for (int i = 0; i < length_frames; ++i) {
        const auto toEnd_s = std::min(i, length_frames - i) / double(rate_hz);
        const auto fade = toEnd_s < 1 ? std::pow(std::sin(pi / 2 * toEnd_s), 2) : 1.0;
        sound.setSample(0, i,
                        static_cast<float>(peak * fade * std::sin(2 * pi * frequency_hz * i / rate_hz)));
    }
    writeSound<juce::WavAudioFormat>(folder / "tone.wav", sound, rate_hz, 24);
    return folder / "tone.wav";
}

std::string silentSide(const TestFolder& folder, double length_s) {
    juce::AudioBuffer<float> sound(1, static_cast<int>(length_s * rate_hz));
    sound.clear();
    writeSound<juce::WavAudioFormat>(folder / "silence.wav", sound, rate_hz, 16);
    return folder / "silence.wav";
}

int linesOf(const std::string& text) {
    return static_cast<int>(std::count(text.begin(), text.end(), '\n'));
}

using Arguments = std::vector<std::string>;

Arguments joined(Arguments first, const Arguments& more) {
    first.insert(first.end(), more.begin(), more.end());
    return first;
}

/// What a run writes with --json.
juce::var reportOf(const TestFolder& folder, const Arguments& arguments, int code) {
    const auto result = runTool(joined(arguments, {"--quiet", "--json", folder / "report.json"}));
    INFO(result.err << result.out);
    REQUIRE(result.code == code);
    return juce::JSON::parse(juce::File(folder / "report.json"));
}

/// Whether `headland cut` finds the side clean with one setting more.
bool isClean(const TestFolder& folder, const std::string& side, const Arguments& settings,
             const std::string& set) {
    const auto arguments =
        joined(joined({"cut", side}, settings), {"--set", set, "--quiet", "--json", folder / "cut.json"});
    const auto code = runTool(arguments).code;
    const auto flags = juce::JSON::parse(juce::File(folder / "cut.json"))["summary"]["flags"];
    REQUIRE(flags.isObject());
    auto sectors = 0;
    for (const auto* flag : {"overcut", "thin-land", "narrow", "lifted", "steep"})
        sectors += static_cast<int>(flags[flag]["sectors"]);
    return code == 0 && sectors == 0;
}

std::string tenth(double value) {
    return juce::String(value, 1).toStdString();
}

/// The answer of `fit`, which `cut` must find clean, and a tenth more not.
double checkedAnswer(const TestFolder& folder, const std::string& side, const std::string& vary,
                     const std::string& key, const Arguments& settings) {
    const auto report = reportOf(folder, joined({"fit", side, "--vary", vary}, settings), 0);
    const auto answer = static_cast<double>(report["answer"]);
    CHECK(isClean(folder, side, settings, key + "=" + tenth(answer)));
    CHECK_FALSE(isClean(folder, side, settings, key + "=" + tenth(answer + 0.1)));
    return answer;
}

const char* limitOf(const juce::var& report) {
    REQUIRE(report["gives_way"].size() == 1);
    const auto name = report["gives_way"][0]["limit"].toString();
    for (const auto* known : {"disc", "land", "lift", "width", "slope"})
        if (name == known)
            return known;
    return "";
}

/// Level at which a tone of this peak, cut on both walls, reaches the slope of 45 degrees at its innermost place:
/// lateral velocity sqrt2 times the wall's, groove speed 2 pi r / T, each turn spaced by the silent groove and twice
/// the swing of an edge (docs/theory/groove.md). The fades count for half their length.
double slopeLimit_db(double frequency_hz, double peak, double length_s) {
    const auto fullTurns = (length_s - 1) / turn_s; // up to where the fade-out begins
    auto level_db = 0.0;
    for (int i = 0; i < 50; ++i) { // the spacing depends on the level, weakly: this settles at once
        const auto wall_um_s = 5e4 * peak * std::pow(10, (level_db + 18) / 20);
        const auto swing_um = std::numbers::sqrt2 * wall_um_s / (2 * pi * frequency_hz);
        const auto radius_mm =
            start_mm - (fullTurns * silent_um + (fullTurns - 0.5 / turn_s) * 2 * swing_um) / 1000;
        const auto speed_um_s = 2 * pi * radius_mm * 1000 / turn_s;
        level_db += 20 * std::log10(speed_um_s / (std::numbers::sqrt2 * wall_um_s));
    }
    return level_db;
}

} // namespace

TEST_CASE("The level found for a tone is where its slope reaches 45 degrees at the innermost place") {
    const TestFolder folder;
    const auto peak = 0.4, length_s = 40.0;
    const auto side = toneSide(folder, 1000, peak, length_s);
    const auto answer_db = checkedAnswer(folder, side, "level", "disc_level_db", {});
    const auto exact_db = slopeLimit_db(1000, peak, length_s);
    CHECK(answer_db <= exact_db + 0.02);
    CHECK(answer_db > exact_db - 0.12);
    const auto report = juce::JSON::parse(juce::File(folder / "report.json"));
    CHECK(std::string(limitOf(report)) == "slope");
    const auto fault = report["gives_way"][0];
    CHECK(static_cast<double>(fault["time_s"]) == Approx(length_s - 1).margin(0.5));
    CHECK(static_cast<double>(fault["figure"]) == Approx(1).margin(0.012)); // a tenth of a dB above at most
    CHECK(static_cast<double>(fault["allowed"]) == Approx(1));
}

TEST_CASE("The land found for silence is what the disc leaves between its turns") {
    const TestFolder folder;
    const auto length_s = 60.0, exact_um = 18.35;
    const auto room_mm = length_s / turn_s * (50 + exact_um) / 1000;
    const Arguments settings{"--set", "end_radius_mm=" + std::to_string(start_mm - room_mm)};
    const auto side = silentSide(folder, length_s);
    CHECK(checkedAnswer(folder, side, "land", "land_min_um", settings) == Approx(18.3));
    const auto report = juce::JSON::parse(juce::File(folder / "report.json"));
    CHECK(std::string(limitOf(report)) == "disc");
    CHECK(static_cast<double>(report["gives_way"][0]["figure"]) < 0);
    CHECK(static_cast<double>(report["gives_way"][0]["time_s"]) == Approx(length_s).margin(0.1));
}

TEST_CASE("The depth found for silence is half of what the disc leaves for a groove") {
    const TestFolder folder;
    const auto length_s = 60.0, exact_um = 31.25;
    const auto room_mm = length_s / turn_s * (2 * exact_um + 12) / 1000;
    const Arguments settings{"--set", "end_radius_mm=" + std::to_string(start_mm - room_mm)};
    CHECK(checkedAnswer(folder, silentSide(folder, length_s), "depth", "depth_basic_um", settings)
          == Approx(31.2));
}

TEST_CASE("A bass tone that takes the disc: the answer is clean, a tenth more is not") {
    const TestFolder folder;
    const auto side = toneSide(folder, 63, 0.3, 30);
    checkedAnswer(folder, side, "level", "disc_level_db", {"--set", "end_radius_mm=144.5"});
    CHECK(std::string(limitOf(juce::JSON::parse(juce::File(folder / "report.json")))) == "disc");
}

TEST_CASE("The report: a row and a member for every trial, in order, the answer marked in both") {
    const TestFolder folder;
    const auto side = toneSide(folder, 1000, 0.2, 5);
    const auto result = runTool({"fit", side, "--json", folder / "a.json"});
    CHECK(result.code == 0);
    CHECK(result.err.empty());
    CHECK_THAT(result.out, StartsWith("Program")
                               && Contains("The highest disc level at which the side is clean is")
                               && Contains("The slope gives way first: at ")
                               && Contains("nothing: the answer") && Contains("not a safety system"));
    const auto report = juce::JSON::parse(juce::File(folder / "a.json"));
    const auto trials = *report["trials"].getArray();
    REQUIRE(trials.size() >= 4);
    auto before = -1000.0, lastClean = -1000.0;
    for (const auto& trial : trials) {
        const auto value = static_cast<double>(trial["value"]);
        CHECK(value > before);
        before = value;
        CHECK(static_cast<bool>(trial["clean"]) == (trial["faults"].size() == 0));
        if (trial["clean"])
            lastClean = value;
        CHECK_THAT(result.out, Contains(" " + tenth(value) + "   ")); // the row's first column
    }
    CHECK(lastClean == static_cast<double>(report["answer"]));
    CHECK_THAT(result.out, Contains("clean is " + tenth(lastClean) + " dB"));
    CHECK(report["settings"]["disc_level_db"].toString() == "0.0"); // as given, not as found
    const auto quiet = runTool({"fit", side, "--quiet"}).out;
    CHECK_THAT(quiet, StartsWith("The highest disc level"));
    CHECK(linesOf(quiet) == 1);
}

TEST_CASE("When the slope is too great at any land, it says to vary the level: 3") {
    const TestFolder folder;
    const auto side = toneSide(folder, 1000, 1, 5);
    for (const auto* vary : {"land", "depth"}) {
        const auto result = runTool({"fit", side, "--vary", vary, "--json", folder / "a.json"});
        CHECK(result.code == 3);
        CHECK_THAT(result.out, Contains("will do: even at ") && Contains("the slope does not depend on the")
                                   && Contains("--vary level"));
        const auto report = juce::JSON::parse(juce::File(folder / "a.json"));
        CHECK(report["answer"].isVoid());
        CHECK(static_cast<int>(report["exit_code"]) == 3);
    }
}

TEST_CASE("When even silence does not fit, no level will do: 3") {
    const TestFolder folder;
    const auto result = runTool({"fit", silentSide(folder, 30), "--set", "end_radius_mm=146", "--quiet"});
    CHECK(result.code == 3);
    CHECK_THAT(result.out,
               StartsWith("No disc level will do: even at -40.0 dB") && Contains("shorten the program"));
    CHECK(linesOf(result.out) == 1);
}

TEST_CASE("Silence is clean up to the end of the range, which is said: 0") {
    const TestFolder folder;
    const auto result = runTool({"fit", silentSide(folder, 4)});
    CHECK(result.code == 0);
    CHECK_THAT(result.out,
               Contains("is 20.0 dB") && Contains("Nothing gives way there, it is the end of the range"));
}

TEST_CASE("What fit refuses: 2, one sentence, and no output") {
    const TestFolder folder;
    const auto side = silentSide(folder, 2);
    for (const auto& arguments :
         {Arguments{"fit", side, "--vary", "pitch"}, Arguments{"fit", folder / "missing.wav"},
          Arguments{"fit", side, "--set", "land_min_um=-3"}, Arguments{"fit", side, "--json", side},
          Arguments{"fit", side, "--vary", "depth", "--set", "width_min_um=50.05", "--set",
                    "depth_basic_um=25.03", "--set", "depth_max_um=25.06"}}) {
        const auto result = runTool(arguments);
        CHECK(result.code == 2);
        CHECK(result.out.empty());
        CHECK_FALSE(result.err.empty());
    }
    CHECK(runTool({"fit", side, "--json", folder / "no/such/a.json"}).code == 4);
    CHECK(folder.count() == 1);
}

TEST_CASE("A search that is stopped leaves nothing: 130") {
    const TestFolder folder;
    const auto side = silentSide(folder, 900);
    ToolRun run({"fit", side, "--json", folder / "a.json"});
    for (int tries = 0; folder.count() < 2 && tries < 1000; ++tries)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    REQUIRE(folder.count() == 2); // its output is open: it is at work
    run.signal(SIGINT);
    const auto result = run.wait();
    CHECK(result.code == 130);
    CHECK_THAT(result.err, Contains("Stopped"));
    CHECK(result.out.empty());
    CHECK(folder.count() == 1);
}
