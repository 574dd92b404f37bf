// SPDX-License-Identifier: GPL-3.0-or-later
// A rehearsal on the command line: hearing a side before it is cut, keeping what was heard, and looking ahead with it later.
#include "Tests/Console/Tool.h"
#include "Tests/Files/SoundFiles.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

constexpr int rate_hz = 44100;

/// Twenty seconds of bass strokes, each after another pause.
std::string strokes(const TestFolder& folder, const std::string& name, double firstPause_s) {
    juce::AudioBuffer<float> sound(2, 20 * rate_hz);
    sound.clear();
    auto pause_s = firstPause_s;
    for (auto from_s = 0.5; from_s < 19; from_s += pause_s, pause_s = 0.3 + std::fmod(pause_s * 1.7, 1.3))
        for (int i = 0; i < rate_hz; ++i) {
            const auto at = static_cast<int>(from_s * rate_hz) + i;
            const auto t = i / static_cast<double>(rate_hz);
            if (at < sound.getNumSamples())
                for (int channel = 0; channel < 2; ++channel)
                    sound.addSample(channel, at,
                                    static_cast<float>(0.2 * std::exp(-5 * t) * std::sin(2 * M_PI * 60 * t)));
        }
    writeSound<juce::WavAudioFormat>(folder / name, sound, rate_hz, 24);
    return folder / name;
}

juce::var jsonOf(const std::string& path) {
    return juce::JSON::parse(juce::File(path));
}

double used_mm(const TestFolder& folder, const std::string& name) {
    return static_cast<double>(jsonOf(folder / name)["summary"]["used_mm"]);
}

} // namespace

TEST_CASE("A rehearsed side takes less disc, at once or with the profile of before") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 0.7);
    REQUIRE(runTool({"cut", side, "--quiet", "--json", folder / "blind.json"}).code == 0);
    const auto rehearsed = runTool({"cut", side, "--rehearse", "--json", folder / "rehearsed.json",
                                    "--profile", folder / "side.profile"});
    REQUIRE(rehearsed.code == 0);
    CHECK_THAT(rehearsed.out, Contains("Rehearsal        heard before it was cut"));
    const auto later =
        runTool({"cut", side, "--rehearsed", folder / "side.profile", "--json", folder / "later.json"});
    REQUIRE(later.code == 0);
    CHECK(used_mm(folder, "rehearsed.json") < used_mm(folder, "blind.json"));
    CHECK(used_mm(folder, "later.json") == Approx(used_mm(folder, "rehearsed.json")).epsilon(0.002));
    const auto use = jsonOf(folder / "later.json")["rehearsal"];
    CHECK(static_cast<bool>(use["used"]));
    CHECK_FALSE(static_cast<bool>(use["dropped"]));
    CHECK_FALSE(static_cast<bool>(jsonOf(folder / "blind.json")["rehearsal"]["used"]));
}

TEST_CASE("What a cut was given of a rehearsal is in its book, and comes out of it as it was") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 0.7), book = folder / "book.headland",
               profile = folder / "side.profile", again = folder / "again.profile";
    REQUIRE(runTool({"cut", side, "--quiet", "--rehearse", "--profile", profile, "--book", book}).code == 0);
    REQUIRE(runTool({"cut", side, "--quiet", "--book", book}).code == 0);
    REQUIRE(runTool({"cut", side, "--quiet", "--profile", folder / "other.profile", "--book", book}).code
            == 0);
    REQUIRE(runTool({"review", book, "1", "--quiet", "--profile", again}).code == 0);
    CHECK((contentOf(again) == contentOf(profile)));
    for (const auto* blind : {"2", "3"}) { // what was only written down was not given
        const auto none = runTool({"review", book, blind, "--quiet", "--profile", folder / "none.profile"});
        CHECK(none.code == 2);
        CHECK_THAT(none.err, Contains("was given nothing of a rehearsal"));
        CHECK_FALSE(std::filesystem::exists(folder / "none.profile"));
    }
    CHECK(runTool({"review", book, "1", "--quiet", "--profile", book}).code == 2);
}

TEST_CASE("The profile of another side is left out, and it is said from when on") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 0.7), other = strokes(folder, "other.wav", 1.1);
    REQUIRE(runTool({"cut", other, "--quiet", "--profile", folder / "other.profile"}).code == 0);
    const auto result =
        runTool({"cut", side, "--rehearsed", folder / "other.profile", "--json", folder / "side.json"});
    REQUIRE(result.code == 0);
    CHECK_THAT(result.out, Contains("Rehearsal        left out from 0:0") && Contains("something else"));
    const auto use = jsonOf(folder / "side.json")["rehearsal"];
    CHECK(static_cast<bool>(use["dropped"]));
    CHECK(static_cast<double>(use["dropped_s"]) < 4);
}

TEST_CASE("A profile made with another high-pass is not used, which is said") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 0.7);
    REQUIRE(runTool({"cut", side, "--quiet", "--profile", folder / "p"}).code == 0);
    const auto result = runTool({"cut", side, "--rehearsed", folder / "p", "--set", "highpass_hz=20"});
    CHECK(result.code == 0);
    CHECK_THAT(result.out, Contains("Rehearsal        not used: it was heard with another high-pass"));
    CHECK_THAT(runTool({"cut", side}).out, !Contains("Rehearsal"));
}

TEST_CASE("What is no profile, or is asked for beside a rehearsal, is refused in a sentence") {
    const TestFolder folder;
    const auto side = strokes(folder, "side.wav", 0.7);
    const auto wrong = runTool({"cut", side, "--rehearsed", side});
    CHECK(wrong.code == 2);
    CHECK_THAT(wrong.err, Contains("side.wav") && Contains("cannot be used"));
    CHECK(runTool({"cut", side, "--rehearsed", folder / "nothing"}).code == 2);
    CHECK(runTool({"cut", side, "--rehearsed", folder / "nothing", "--rehearse"}).code == 2);
    CHECK(runTool({"cut", side, "--profile", side}).code == 2); // never over the program
    REQUIRE(runTool({"cut", side, "--quiet", "--profile", folder / "p"}).code == 0);
    CHECK(runTool({"cut", side, "--rehearsed", folder / "p", "--csv", folder / "p"}).code == 2);
}
