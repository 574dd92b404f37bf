// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a cut's JSON, read back: settings under every key of the table, figures equal to the summary's, null for
// what does not exist, all passages.

#include "Log/CutJson.h"

#include "Cut/SettingsTable.h"
#include "Tests/Log/Frames.h"

#include <catch2/catch.hpp>

#include <limits>

using namespace headland;
using namespace headland::log;
using namespace headland::test;

namespace {

files::Json readBack(const files::Json& written) {
    return files::readJson(files::reportText(written));
}

cut::CutSummary sideWithFlags() {
    const cut::CutSettings settings;
    cut::SummaryBuilder builder(settings);
    for (const auto& frame : sideOfFlags(settings, 30))
        builder.frame(frame);
    return builder.summary();
}

} // namespace

TEST_CASE("Every setting of the table is there under its key, and nothing else is") {
    cut::CutSettings written;
    written.applyFormat(2);
    written.land_min_um = 13.7;
    written.sectors_per_turn = 300;
    const auto settings = readBack(settingsObject(written));
    CHECK(settings.size() == cut::settingsTable().size());
    for (const auto& setting : cut::settingsTable()) {
        const std::string key(setting.key);
        INFO(key);
        REQUIRE(settings.contains(key));
        if (setting.key != "format")
            CHECK(settings[key].get<double>() == cut::getNumber(written, setting));
    }
    CHECK(settings["format"] == "25cm-33");
    CHECK(settings["sectors_per_turn"].is_number_integer());
}

TEST_CASE("Verdict and figures are the summary's") {
    const auto expected = sideWithFlags();
    JsonObject object;
    addVerdict(object, expected);
    addFigures(object, expected, 19.5);
    const auto summary = readBack(object);
    const auto number = [&summary](const char* name) { return summary[name].get<double>(); };
    CHECK(summary["verdict"] == "cannot be cut");
    CHECK(summary["verdict_line"] == expected.verdictLine());
    CHECK(number("turns") == expected.turns);
    CHECK(number("minutes") == expected.sideLength_s / 60);
    CHECK(number("end_diameter_mm") == expected.endDiameter_mm);
    CHECK(number("pitch_mean_um") == expected.pitchMean_um);
    CHECK(summary["lines_per_inch"]["least"] == 25400 / expected.pitchGreatest_um);
    CHECK(number("left_min") == 19.5);
    CHECK(summary["land_least"]["land_um"] == expected.landLeast.value);
    CHECK(summary["land_least"]["time_s"] == expected.landLeast.time_s);
    CHECK(summary["land_least"]["diameter_mm"] == 2 * expected.landLeast.radius_mm);
    for (int bit = 0; bit < cut::flagCount; ++bit) {
        const auto index = static_cast<std::size_t>(bit);
        const auto flag = summary["flags"][std::string(cut::name(cut::flagAt(bit)))];
        CHECK(flag["sectors"] == expected.flaggedSectors[index]);
        CHECK(flag["passages"] == expected.flaggedPassages[index]);
    }
}

TEST_CASE("Every passage has its flag, times, worst figure with unit and radius") {
    const auto summary = sideWithFlags();
    const auto root = readBack(passageArray(summary));
    REQUIRE(root.size() == 2);
    const auto& first = root[0];
    CHECK(first["flag"] == "overcut");
    CHECK(first["start_s"].get<double>() == Approx(10).margin(0.01));
    CHECK(first["end_s"].get<double>() == Approx(10.5).margin(0.01));
    CHECK(first["worst"].get<double>() == Approx(-12.5).margin(0.01));
    CHECK(first["unit"] == "µm");
    CHECK(first["radius_mm"] == summary.passages[0].worst.radius_mm);
    CHECK(root[1]["flag"] == "narrow");
}

TEST_CASE("A figure that does not exist is null, never NaN") {
    auto summary = cut::SummaryBuilder(cut::CutSettings{}).summary();
    summary.curvatureLeast = {std::numeric_limits<double>::infinity(), 1, 2, true};
    JsonObject object;
    addFigures(object, summary, std::numeric_limits<double>::quiet_NaN());
    const auto text = files::reportText(object);
    CHECK(text.find("nan") == std::string::npos);
    CHECK(text.find("inf") == std::string::npos);
    const auto root = readBack(object);
    for (const auto* name : {"left_min", "land_least", "curvature_least", "finishing_diameter_mm"}) {
        INFO(name);
        CHECK(root.contains(name));
        CHECK(root[name].is_null());
    }
}
