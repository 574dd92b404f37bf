// SPDX-License-Identifier: GPL-3.0-or-later
// Who wins: defaults, presets in order, then --set, a format among those before the rest. And every problem at once.

#include "Console/SettingsArguments.h"

#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::console;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

cut::CutSettings merged(std::vector<std::string> presets, std::vector<std::string> sets) {
    const auto result = mergeSettings({std::move(presets), std::move(sets)});
    REQUIRE(result.problems.empty());
    return result.settings;
}

} // namespace

TEST_CASE("Without arguments the settings are the table's defaults") {
    const auto settings = merged({}, {});
    CHECK(settings.discFormat().key == "30cm-33");
    CHECK(settings.land_min_um == cut::CutSettings{}.land_min_um);
}

TEST_CASE("A later preset wins over an earlier one, and --set over both") {
    const TestFolder folder;
    put(folder / "wide.json",
        R"({"headland_preset": 1, "settings": {"land_min_um": 20, "carriage_lag_s": 0.2}})");
    CHECK(merged({"lathe-nimble", folder / "wide.json"}, {}).carriage_lag_s == 0.2);
    CHECK(merged({folder / "wide.json", "lathe-nimble"}, {}).carriage_lag_s == 0.02);
    CHECK(merged({folder / "wide.json", "lathe-nimble"}, {}).land_min_um == 20);
    CHECK(merged({folder / "wide.json"}, {"land_min_um=15"}).land_min_um == 15);
    CHECK(merged({}, {"land_min_um=15", "land_min_um=16"}).land_min_um == 16);
}

TEST_CASE("A format among the --set values comes first, whatever its place") {
    for (const auto& sets :
         {std::vector<std::string>{"format=17cm-45", "preview_s=2.5", "start_radius_mm=80"},
          std::vector<std::string>{"preview_s=2.5", "start_radius_mm=80", "format=17cm-45"}}) {
        const auto settings = merged({}, sets);
        CHECK(settings.discFormat().key == "17cm-45");
        CHECK(settings.rpm == 45);
        CHECK(settings.preview_s == 2.5);
        CHECK(settings.start_radius_mm == 80);
        CHECK(settings.end_radius_mm == 53);
    }
    // Over a preset it takes over speed, radii and preview all the same.
    CHECK(merged({"17cm-33"}, {"format=30cm-45"}).rpm == 45);
    CHECK(merged({"17cm-33"}, {"format=30cm-45"}).start_radius_mm == 146.3);
}

TEST_CASE("A side length is the person's own once --set or a preset gives it, even as not known") {
    const TestFolder folder;
    put(folder / "length.json", R"({"headland_preset": 1, "settings": {"side_length_s": 1200}})");
    CHECK_FALSE(mergeSettings({{"30cm-33"}, {"land_min_um=14"}}).sideLengthGiven);
    CHECK(mergeSettings({{}, {"side_length_s=0"}}).sideLengthGiven);
    CHECK(mergeSettings({{folder / "length.json"}, {}}).sideLengthGiven);
}

TEST_CASE("All problems are kept, each a sentence of its own") {
    const auto problems =
        mergeSettings(
            {{"no-such-preset"}, {"land=12", "rpm=fast", "format=40cm", "preview_s", "land_min_um=13"}})
            .problems;
    REQUIRE(problems.size() == 5);
    CHECK_THAT(problems[0], Contains("no-such-preset"));
    CHECK_THAT(problems[1], Contains("40cm"));
    CHECK_THAT(problems[2], Contains("'land' is not a setting"));
    CHECK_THAT(problems[3], Contains("rpm") && Contains("'fast'"));
    CHECK_THAT(problems[4], Contains("preview_s") && Contains("KEY=VALUE"));
}
