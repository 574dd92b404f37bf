// SPDX-License-Identifier: GPL-3.0-or-later
// The summary a person reads: figures with units and places, passages worst first and not too many, what would fit.

#include "Console/SummaryText.h"

#include "Tests/Console/Reports.h"

#include <catch2/catch.hpp>

#include <sstream>

using namespace headland;
using namespace headland::console;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

CutReport plainSide(const std::function<void(cut::CutFrame&)>& change = {}) {
    const cut::CutSettings settings;
    return reportOf(settings, inventedSide(settings, 30, change), 30);
}

std::size_t columnsOf(const std::string& line) {
    return static_cast<std::size_t>(
        std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xc0) != 0x80; }));
}

} // namespace

TEST_CASE("Each figure stands with its unit and place") {
    auto report = plainSide();
    report.summary.landLeast = {11.96, 192.36, 135.05, true};
    report.summary.pitchMean_um = 101.6;
    const auto text = summaryText(report);
    CHECK_THAT(text, Contains("Side length      0:30.0, 16.7 turns"));
    CHECK_THAT(text, Contains("292.6 mm at the start"));
    CHECK_THAT(text, Contains("mean 101.6 µm (250 lines per inch)"));
    CHECK_THAT(text, Contains("12.0 µm (set: 12) at 3:12.4, diameter 270.1 mm"));
    CHECK_THAT(text, Contains("19:30 at the going rate"));
    CHECK_THAT(text, Contains("WAV, 24 bit, 48 kHz, stereo"));
    CHECK_THAT(text, Contains("half way it said 130.2 ± 4.5 mm"));
    CHECK_THAT(text, Contains("Flagged passages none"));
    CHECK_THAT(text, Contains(report.summary.verdictLine()));
    CHECK_THAT(text, Contains("not a safety system"));
}

TEST_CASE("Passages are listed worst kind first, worst figure first within a kind") {
    const auto text = summaryText(plainSide([](cut::CutFrame& frame) {
        const auto within = [&frame](double from_s) {
            return frame.time_s > from_s && frame.time_s < from_s + 0.3;
        };
        if (within(3) || within(20))
            raise(frame, cut::Flag::steep);
        if (within(6) || within(15)) {
            raise(frame, cut::Flag::overcut);
            frame.landMin_um = within(15) ? -9.5 : -4.5;
        }
        if (within(10)) {
            raise(frame, cut::Flag::thinLand);
            frame.landMin_um = 4.25;
        }
    }));
    CHECK_THAT(text, Contains("Flagged passages 5 (2 overcut, 1 thin-land, 2 steep)"));
    const std::vector<std::string> order{"land -9.5 µm", "land -4.5 µm", "land 4.2 µm", "0:03.0 to 0:03.3",
                                         "0:20.0 to"};
    std::size_t last = 0;
    for (const auto& part : order) {
        const auto place = text.find(part);
        INFO(part << "\n" << text);
        REQUIRE(place != std::string::npos);
        CHECK(place > last);
        last = place;
    }
}

TEST_CASE("At most twenty passages are listed, the rest are counted") {
    auto report = plainSide();
    for (int i = 0; i < 45; ++i)
        report.summary.passages.push_back(
            {cut::Flag::narrow, 100.0 * i, 100.0 * i + 1, {20.0 + i, 100.0 * i, 100, true}});
    report.summary.passagesLeftOut = 7;
    report.summary.flaggedPassages[cut::indexOf(cut::Flag::narrow)] = 52;
    const auto text = summaryText(report);
    CHECK_THAT(text, Contains("52 (52 narrow)") && Contains("and 32 more"));
    CHECK_THAT(text, Contains("width 39.0 µm") && !Contains("width 40.0 µm"));
}

TEST_CASE("A side that does not fit says by how much, what length and what level would") {
    auto report = plainSide();
    report.summary.fits = false;
    report.summary.endDiameter_mm = 2 * (report.settings.end_radius_mm - 3.21);
    report.summary.sideLength_s = 1303;
    report.summary.fitLength_s = 1200;
    CHECK_THAT(summaryText(report),
               Contains("3.21 mm of radius, 1:43.0 of program") && Contains("the first 20:00"));
    CHECK_THAT(summaryText(report), Contains("Disc left        none"));
    report.level = LevelSearchResult{LevelSearchResult::Outcome::found, -2.3, true, 3, plainSide().summary};
    CHECK_THAT(summaryText(report), Contains("-2.3 dB"));
    report.level->outcome = LevelSearchResult::Outcome::noLevelHelps;
    CHECK_THAT(summaryText(report), Contains("No level helps"));
}

TEST_CASE("Bad samples are told with their place") {
    auto report = plainSide();
    CHECK_THAT(summaryText(report), !Contains("Bad samples"));
    report.outcome = {12, 83.21};
    CHECK_THAT(summaryText(report), Contains("12 samples") && Contains("1:23.2"));
}

TEST_CASE("A side without program, and a silent one, are told without nonsense") {
    const cut::CutSettings settings;
    auto empty = summaryText(reportOf(settings, {}, 0));
    CHECK_THAT(empty, Contains("too little program") && !Contains("nan") && !Contains("inf "));
    auto report = plainSide();
    report.summary.curvatureLeast = {std::numeric_limits<double>::infinity(), 1, 100, true};
    CHECK_THAT(summaryText(report), Contains("none: the groove is straight"));
    report.summary.curvatureLeast.value = 1246351.6; // a passage of nothing but noise
    CHECK_THAT(summaryText(report),
               Contains("radius of curvature more than 10 mm (playback tip 18 µm)") && !Contains("1246351"));
    report.summary.curvatureLeast.value = 9999.9;
    CHECK_THAT(summaryText(report), Contains("radius of curvature 9999.9 µm (playback tip 18)"));
}

TEST_CASE("No line is wider than a hundred columns") {
    auto report = plainSide();
    report.program.fileName =
        "a name of many words that someone gave to a side with everything in it that came to mind.wav";
    std::istringstream lines(summaryText(report));
    for (std::string line; std::getline(lines, line);)
        CHECK(columnsOf(line) <= 100);
}

TEST_CASE("Text is broken at spaces only, later lines indented, nothing lost") {
    CHECK(wrapped("one two three four", 9, 2) == "one two\n  three\n  four");
    CHECK(wrapped("one two three four", 11, 2) == "one two\n  three\n  four"); // the indent counts
    CHECK(wrapped("short", 9) == "short");
    CHECK(wrapped("  kept in front", 20) == "  kept in front");
    CHECK(wrapped("µµµ µµµ", 7) == "µµµ µµµ"); // columns, not bytes
    CHECK(wrapped("unbreakableword x", 5) == "unbreakableword\nx");
    CHECK(wrapped("", 5).empty());
}
