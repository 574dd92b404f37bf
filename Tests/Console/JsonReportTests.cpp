// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON report, read back: settings under every key of the table, figures equal to the summary's, null for what does
// not exist, all passages.

#include "Console/JsonReport.h"

#include "Cut/SettingsTable.h"
#include "Tests/Console/Reports.h"

#include <catch2/catch.hpp>
#include <juce_core/juce_core.h>

#include <limits>

using namespace headland;
using namespace headland::console;
using namespace headland::test;

namespace {

juce::var readBack(const CutReport& report) {
    juce::var root;
    REQUIRE(juce::JSON::parse(juce::String::fromUTF8(jsonText(report).c_str()), root).wasOk());
    return root;
}

CutReport sideWithFlags() {
    const cut::CutSettings settings;
    return reportOf(settings,
                    inventedSide(settings, 30,
                                 [](cut::CutFrame& frame) {
                                     if (frame.time_s > 10 && frame.time_s < 10.5) {
                                         raise(frame, cut::Flag::overcut);
                                         frame.landMin_um = -2 - frame.time_s;
                                     }
                                     if (frame.time_s > 20 && frame.time_s < 21)
                                         raise(frame, cut::Flag::narrow);
                                 }),
                    30);
}

} // namespace

TEST_CASE("The report says its version and the program's facts") {
    const auto root = readBack(sideWithFlags());
    CHECK(static_cast<int>(root["headland_cut"]) == 1);
    CHECK(root["headland_version"] == juce::var(HEADLAND_VERSION));
    CHECK(root["program"]["file_name"].toString() == "side \"A\".wav");
    CHECK(static_cast<double>(root["program"]["sample_rate_hz"]) == 48000);
    CHECK(static_cast<int>(root["program"]["channels"]) == 2);
    CHECK(static_cast<int>(root["program"]["length_frames"]) == 48000 * 30);
}

TEST_CASE("Every setting of the table is there under its key, and nothing else is") {
    auto report = sideWithFlags();
    report.settings.applyFormat(2);
    report.settings.land_min_um = 13.7;
    report.settings.sectors_per_turn = 300;
    const auto root = readBack(report);
    const auto* settings = root["settings"].getDynamicObject();
    REQUIRE(settings != nullptr);
    CHECK(static_cast<std::size_t>(const_cast<juce::DynamicObject*>(settings)->getProperties().size())
          == cut::settingsTable().size());
    for (const auto& setting : cut::settingsTable()) {
        const juce::String key(setting.key.data(), setting.key.size());
        INFO(key);
        REQUIRE(settings->hasProperty(key));
        if (setting.key != "format")
            CHECK(static_cast<double>(settings->getProperty(key))
                  == Approx(cut::getNumber(report.settings, setting)).epsilon(1e-14));
    }
    CHECK(root["settings"]["format"].toString() == "25cm-33");
    CHECK(root["settings"]["sectors_per_turn"].isInt());
}

TEST_CASE("The summary's figures are the report's") {
    const auto report = sideWithFlags();
    const auto& expected = report.summary;
    const auto summary = readBack(report)["summary"];
    const auto number = [&summary](const char* name) { return static_cast<double>(summary[name]); };
    CHECK(summary["verdict"].toString() == "cannot be cut");
    CHECK(summary["verdict_line"].toString() == juce::String::fromUTF8(expected.verdictLine().c_str()));
    CHECK(static_cast<int>(summary["exit_code"]) == 3);
    CHECK(summary["exit_meaning"].toString().contains("cannot be cut"));
    CHECK(number("turns") == Approx(expected.turns));
    CHECK(number("minutes") == Approx(expected.sideLength_s / 60));
    CHECK(number("end_diameter_mm") == Approx(expected.endDiameter_mm));
    CHECK(number("pitch_mean_um") == Approx(expected.pitchMean_um));
    CHECK(static_cast<double>(summary["lines_per_inch"]["least"])
          == Approx(25400 / expected.pitchGreatest_um));
    CHECK(number("left_min") == Approx(19.5));
    CHECK(static_cast<double>(summary["land_least"]["land_um"]) == Approx(expected.landLeast.value));
    CHECK(static_cast<double>(summary["land_least"]["time_s"]) == Approx(expected.landLeast.time_s));
    CHECK(static_cast<double>(summary["land_least"]["diameter_mm"])
          == Approx(2 * expected.landLeast.radius_mm));
    for (int bit = 0; bit < cut::flagCount; ++bit) {
        const auto index = static_cast<std::size_t>(bit);
        const auto flag = summary["flags"][juce::Identifier(cut::name(cut::flagAt(bit)).data())];
        CHECK(static_cast<int>(flag["sectors"]) == expected.flaggedSectors[index]);
        CHECK(static_cast<int>(flag["passages"]) == expected.flaggedPassages[index]);
    }
}

TEST_CASE("Every passage has its flag, times, worst figure with unit and radius") {
    const auto report = sideWithFlags();
    const auto root = readBack(report);
    const auto* passages = root["passages"].getArray();
    REQUIRE(passages != nullptr);
    REQUIRE(passages->size() == 2);
    const auto& first = passages->getReference(0);
    CHECK(first["flag"].toString() == "overcut");
    CHECK(static_cast<double>(first["start_s"]) == Approx(10).margin(0.01));
    CHECK(static_cast<double>(first["end_s"]) == Approx(10.5).margin(0.01));
    CHECK(static_cast<double>(first["worst"]) == Approx(-12.5).margin(0.01));
    CHECK(first["unit"].toString() == juce::String::fromUTF8("µm"));
    CHECK(static_cast<double>(first["radius_mm"]) == Approx(report.summary.passages[0].worst.radius_mm));
    CHECK(passages->getReference(1)["flag"].toString() == "narrow");
    CHECK(static_cast<int>(root["passages_left_out"]) == 0);
}

TEST_CASE("What does not exist is null, never NaN") {
    const cut::CutSettings settings;
    auto report = reportOf(settings, {}, 0);
    const auto text = jsonText(report);
    const auto root = readBack(report);
    CHECK(text.find("nan") == std::string::npos);
    CHECK(text.find("inf") == std::string::npos);
    CHECK(root["summary"]["land_least"].isVoid());
    CHECK(root["summary"]["left_min"].isVoid());
    CHECK(root["summary"]["finishing_diameter_mm"].isVoid());
    CHECK(root["bad_samples"]["first_s"].isVoid());
    CHECK(root["fit"]["disc_level_db"].isVoid());
    report.summary.curvatureLeast = {std::numeric_limits<double>::infinity(), 1, 2, true};
    report.outcome = {3, 1.5};
    CHECK(readBack(report)["summary"]["curvature_least"].isVoid());
    CHECK(static_cast<int>(readBack(report)["bad_samples"]["count"]) == 3);
    CHECK(static_cast<double>(readBack(report)["bad_samples"]["first_s"]) == 1.5);
}

TEST_CASE("A side that does not fit says by how much, and at what level it would") {
    auto report = sideWithFlags();
    report.summary.fits = false;
    report.summary.endDiameter_mm = 2 * (report.settings.end_radius_mm - 3);
    report.summary.sideLength_s = 1300;
    report.summary.fitLength_s = 1200;
    report.level = LevelSearchResult{LevelSearchResult::Outcome::found, -2.3, true, 3, {}};
    auto fit = readBack(report)["fit"];
    CHECK_FALSE(static_cast<bool>(fit["fits"]));
    CHECK(static_cast<double>(fit["too_long_mm"]) == Approx(3));
    CHECK(static_cast<double>(fit["too_long_s"]) == Approx(100));
    CHECK(static_cast<double>(fit["fit_length_s"]) == Approx(1200));
    CHECK(static_cast<double>(fit["disc_level_db"]) == Approx(-2.3));
    CHECK(static_cast<bool>(fit["any_level_fits"]));
    report.level->outcome = LevelSearchResult::Outcome::noLevelHelps;
    fit = readBack(report)["fit"];
    CHECK(fit["disc_level_db"].isVoid());
    CHECK(fit["any_level_fits"].isBool());
    CHECK_FALSE(static_cast<bool>(fit["any_level_fits"]));
}

TEST_CASE("The estimate on the way is held against the end") {
    const auto root = readBack(sideWithFlags());
    const auto* forecasts = root["estimate_check"].getArray();
    REQUIRE(forecasts != nullptr);
    REQUIRE(forecasts->size() == 3);
    const auto end_mm = static_cast<double>(root["summary"]["end_diameter_mm"]);
    for (int i = 0; i < 3; ++i) {
        const auto& forecast = forecasts->getReference(i);
        CHECK(static_cast<double>(forecast["time_s"]) == Approx(7.5 * (i + 1)).margin(0.01));
        CHECK(static_cast<double>(forecast["end_diameter_mm"]) == Approx(130.25));
        CHECK(static_cast<double>(forecast["error_mm"]) == Approx(130.25 - end_mm));
    }
}
