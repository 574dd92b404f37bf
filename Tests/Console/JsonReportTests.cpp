// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON report, read back: everything is in its place, null for what does not exist. What is alike in every report of
// a cut has its tests in Tests/Log.

#include "Console/JsonReport.h"

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
    return reportOf(settings, sideOfFlags(settings, 30), 30);
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

TEST_CASE("The settings are the report's") {
    auto report = sideWithFlags();
    report.settings.land_min_um = 13.5;
    CHECK(static_cast<double>(readBack(report)["settings"]["land_min_um"]) == 13.5);
}

TEST_CASE("The summary has the verdict, the exit code and the estimate of what is left") {
    const auto report = sideWithFlags();
    const auto summary = readBack(report)["summary"];
    CHECK(summary["verdict"].toString() == "cannot be cut");
    CHECK(static_cast<int>(summary["exit_code"]) == 3);
    CHECK(summary["exit_meaning"].toString().contains("cannot be cut"));
    CHECK(static_cast<double>(summary["turns"]) == Approx(report.summary.turns));
    CHECK(static_cast<double>(summary["left_min"]) == Approx(19.5));
}

TEST_CASE("The passages are the summary's, and how many are left out") {
    auto report = sideWithFlags();
    report.summary.passagesLeftOut = 7;
    const auto root = readBack(report);
    CHECK(root["passages"].size() == 2);
    CHECK(static_cast<int>(root["passages_left_out"]) == 7);
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
