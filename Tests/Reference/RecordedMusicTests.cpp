// SPDX-License-Identifier: GPL-3.0-or-later
// Real recorded music: the first pieces of Debian's package singularity-music that fill a side, put together by sox and
// cut by the finished tool. At one turn of preview nothing may meet; at a quarter turn, under which the groove model (4)
// says every controller must fail somewhere, the report must say so.
#include "Tests/Console/Tool.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Reference/Command.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <juce_core/juce_core.h>

using namespace headland::test;

namespace {

/// The loudest whole decibel at which this side needs no groove narrower than set and ends before the innermost
/// diameter: one decibel more and a groove is too narrow. Its loudness is then about 10 dB under the reference tone's.
constexpr auto discLevel = "disc_level_db=-13";
constexpr double landMin_um = 12; ///< the default
constexpr double shortestSide_s = 18 * 60, longestSide_s = 20 * 60;

double length_s(const std::string& file) {
    return std::stod(runCommand("soxi -D " + quoted(file)));
}

/// Writes a side of as many pieces as 20 minutes hold, 44.1 kHz, 16 bit; returns its length.
double makeSide(const std::string& path) {
    std::string inputs;
    auto side_s = 0.0;
    for (const auto& piece : recordingsOf("singularity-music")) {
        const auto piece_s = length_s(piece);
        if (side_s + piece_s > longestSide_s)
            break;
        side_s += piece_s;
        inputs += quoted(piece) + " ";
    }
    REQUIRE(side_s >= shortestSide_s);
    runCommand("sox -V1 -D " + inputs + "-r 44100 -b 16 " + quoted(path));
    return side_s;
}

/// What the tool made of the side.
struct Report {
    int code;
    juce::var root;

    juce::var summary(const char* name) const { return root["summary"][name]; }
    int sectors(const char* flag) const { return summary("flags")[flag]["sectors"]; }
    std::vector<juce::var> passages(const char* flag) const {
        std::vector<juce::var> result;
        for (const auto& passage : *root["passages"].getArray())
            if (passage["flag"] == juce::var(flag))
                result.push_back(passage);
        return result;
    }
};

Report cutSide(const TestFolder& folder, const std::string& side, const std::string& preview_s) {
    const auto json = folder / "report.json";
    const auto result = runTool(
        {"cut", side, "--set", discLevel, "--set", "preview_s=" + preview_s, "--json", json, "--quiet"});
    INFO(result.out << result.err);
    Report report{result.code, juce::JSON::parse(juce::String::fromUTF8(contentOf(json).c_str()))};
    REQUIRE(report.root.isObject());
    return report;
}

} // namespace

TEST_CASE("a side of recorded music is cut without overcut at one turn of preview, and not at a quarter",
          "[music]") {
    const TestFolder folder;
    const auto side = folder / "side.wav";
    const auto side_s = makeSide(side);

    const auto good = cutSide(folder, side, "1.8");
    CHECK(good.code == 0);
    CHECK(static_cast<double>(good.summary("side_length_s")) == Approx(side_s).margin(0.01));
    CHECK(good.sectors("overcut") == 0);
    CHECK(good.sectors("lifted") == 0);
    CHECK(good.sectors("narrow") == 0);
    CHECK(good.sectors("preview-short") == 0);
    CHECK(static_cast<double>(good.summary("land_least")["land_um"]) >= landMin_um - 0.5);
    CHECK(static_cast<double>(good.summary("end_diameter_mm")) > 120.65);
    // It is a side, not a whisper: on average half as much again as silence needs (62 µm), and the pitch works.
    CHECK(static_cast<double>(good.summary("pitch_mean_um")) > 1.4 * 62);
    CHECK(static_cast<double>(good.summary("pitch_greatest_um")) > 3 * 62);
    // The estimate's own error at its checks along the side, within two of its standard deviations.
    const auto* checks = good.root["estimate_check"].getArray();
    REQUIRE(checks != nullptr);
    REQUIRE(checks->size() >= 3);
    for (const auto& check : *checks)
        CHECK(std::abs(static_cast<double>(check["error_mm"]))
              <= 2 * static_cast<double>(check["uncertainty_mm"]));

    const auto late = cutSide(folder, side, "0.45");
    CHECK(late.code == 3);
    CHECK(late.sectors("overcut") > 0);
    CHECK(late.sectors("preview-short") > 0);
    CHECK(static_cast<double>(late.summary("shortfall_greatest")["shortfall_um"]) > 0.5);
    CHECK(static_cast<double>(late.summary("land_least")["land_um"]) < 0);
    // Nothing meets unannounced: every overcut lies in a passage called short of preview before.
    REQUIRE(static_cast<int>(late.root["passages_left_out"]) == 0);
    const auto announced = late.passages("preview-short");
    const auto overcuts = late.passages("overcut");
    REQUIRE_FALSE(overcuts.empty());
    for (const auto& overcut : overcuts) {
        const auto start_s = static_cast<double>(overcut["start_s"]);
        INFO("overcut at " << start_s << " s");
        CHECK(std::any_of(announced.begin(), announced.end(), [start_s](const juce::var& passage) {
            return static_cast<double>(passage["start_s"])<start_s&& static_cast<double>(passage["end_s"])>
                       start_s - 1.8;
        }));
    }
}
