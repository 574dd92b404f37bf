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

juce::var readBack(const juce::var& written) {
    return juce::JSON::fromString(juce::JSON::toString(written));
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
    const auto root = readBack(settingsObject(written));
    const auto* settings = root.getDynamicObject();
    REQUIRE(settings != nullptr);
    CHECK(static_cast<std::size_t>(const_cast<juce::DynamicObject*>(settings)->getProperties().size())
          == cut::settingsTable().size());
    for (const auto& setting : cut::settingsTable()) {
        const juce::String key(setting.key.data(), setting.key.size());
        INFO(key);
        REQUIRE(settings->hasProperty(key));
        if (setting.key != "format")
            CHECK(static_cast<double>(settings->getProperty(key))
                  == Approx(cut::getNumber(written, setting)).epsilon(1e-14));
    }
    CHECK(root["format"].toString() == "25cm-33");
    CHECK(root["sectors_per_turn"].isInt());
}

TEST_CASE("Verdict and figures are the summary's") {
    const auto expected = sideWithFlags();
    JsonObject object;
    addVerdict(object, expected);
    addFigures(object, expected, 19.5);
    const auto summary = readBack(object);
    const auto number = [&summary](const char* name) { return static_cast<double>(summary[name]); };
    CHECK(summary["verdict"].toString() == "cannot be cut");
    CHECK(summary["verdict_line"].toString() == juce::String::fromUTF8(expected.verdictLine().c_str()));
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
    const auto summary = sideWithFlags();
    const auto root = readBack(passageArray(summary));
    const auto* passages = root.getArray();
    REQUIRE(passages != nullptr);
    REQUIRE(passages->size() == 2);
    const auto& first = passages->getReference(0);
    CHECK(first["flag"].toString() == "overcut");
    CHECK(static_cast<double>(first["start_s"]) == Approx(10).margin(0.01));
    CHECK(static_cast<double>(first["end_s"]) == Approx(10.5).margin(0.01));
    CHECK(static_cast<double>(first["worst"]) == Approx(-12.5).margin(0.01));
    CHECK(first["unit"].toString() == juce::String::fromUTF8("µm"));
    CHECK(static_cast<double>(first["radius_mm"]) == Approx(summary.passages[0].worst.radius_mm));
    CHECK(passages->getReference(1)["flag"].toString() == "narrow");
}

TEST_CASE("A figure that does not exist is null, never NaN") {
    auto summary = cut::SummaryBuilder(cut::CutSettings{}).summary();
    summary.curvatureLeast = {std::numeric_limits<double>::infinity(), 1, 2, true};
    JsonObject object;
    addFigures(object, summary, std::numeric_limits<double>::quiet_NaN());
    const auto text = juce::JSON::toString(object);
    CHECK_FALSE(text.containsIgnoreCase("nan"));
    CHECK_FALSE(text.containsIgnoreCase("inf"));
    const auto root = readBack(object);
    for (const auto* name : {"left_min", "land_least", "curvature_least", "finishing_diameter_mm"}) {
        INFO(name);
        CHECK(root.hasProperty(name));
        CHECK(root[name].isVoid());
    }
}
