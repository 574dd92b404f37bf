// SPDX-License-Identifier: GPL-3.0-or-later
// Presets: the supplied ones load, are valid at every rate and set what they say; a bad file is refused in a sentence
// that names file and key.

#include "Files/PresetFile.h"

#include "Cut/SettingsTable.h"
#include "Files/Errors.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Support/Random.h"
#include "Text/Safe.h"

#include <catch2/catch.hpp>

#include <limits>
#include <set>
#include <sys/stat.h>

using namespace headland;
using namespace headland::files;
using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;

namespace {

Preset parse(const std::string& json) {
    return parsePreset(json, "preset file mine.json");
}

/// The one problem of this preset.
std::string problemOf(const std::string& json) {
    const auto preset = parse(json);
    REQUIRE(preset.problems.size() == 1);
    CHECK_THAT(preset.problems[0], StartsWith("preset file mine.json"));
    return preset.problems[0];
}

std::string withSettings(const std::string& settings) {
    return R"({"headland_preset": 1, "name": "Mine", "about": "For a test.", "settings": {)" + settings
           + "}}";
}

cut::CutSettings settingsOf(const std::string& name) {
    cut::CutSettings settings;
    REQUIRE(applyPreset(settings, loadPreset(name), presetPlace(name)).empty());
    return settings;
}

/// Every setting somewhere in its range, most of them with all the figures a double has.
cut::CutSettings anySettings(Random& random) {
    cut::CutSettings settings;
    for (const auto& setting : cut::settingsTable())
        cut::setNumber(settings, setting, random.between(setting.least, setting.greatest));
    return settings;
}

} // namespace

TEST_CASE("The supplied presets are the five formats and three lathes") {
    const auto names = builtInPresetNames();
    CHECK(std::set<std::string>(names.begin(), names.end())
          == std::set<std::string>{"30cm-33", "30cm-45", "25cm-33", "17cm-45", "17cm-33", "lathe-nimble",
                                   "lathe-ordinary", "lathe-sluggish"});
    CHECK(std::is_sorted(names.begin(), names.end()));
}

TEST_CASE("Every supplied preset loads, says what it is, and is valid at every rate") {
    for (const auto& name : builtInPresetNames()) {
        INFO(name);
        const auto preset = loadPreset(name);
        CHECK(preset.problems.empty());
        CHECK_FALSE(preset.name.empty());
        CHECK_FALSE(preset.about.empty());
        CHECK_FALSE(preset.settings.empty());
        for (const auto rate_hz : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0})
            CHECK(cut::validate(settingsOf(name), rate_hz).empty());
    }
}

TEST_CASE("Any lathe goes with any format") {
    for (const auto& format : disc::formats())
        for (const auto* lathe : {"lathe-nimble", "lathe-ordinary", "lathe-sluggish"}) {
            auto settings = settingsOf(std::string(format.key));
            REQUIRE(applyPreset(settings, loadPreset(lathe), lathe).empty());
            INFO(format.key << " " << lathe);
            CHECK(settings.discFormat().key == format.key);
            CHECK(cut::validate(settings, 44100).empty());
        }
}

TEST_CASE("A format preset sets exactly its format, the ordinary lathe is the table's defaults") {
    for (std::size_t i = 0; i < disc::formats().size(); ++i) {
        cut::CutSettings expected;
        expected.applyFormat(static_cast<int>(i));
        const auto settings = settingsOf(std::string(disc::formats()[i].key));
        for (const auto& setting : cut::settingsTable())
            CHECK(cut::getText(settings, setting) == cut::getText(expected, setting));
    }
    const cut::CutSettings defaults;
    const auto ordinary = settingsOf("lathe-ordinary");
    for (const auto& setting : cut::settingsTable())
        CHECK(cut::getText(ordinary, setting) == cut::getText(defaults, setting));
}

TEST_CASE("The lathes are in the order of their names") {
    const auto nimble = settingsOf("lathe-nimble"), ordinary = settingsOf("lathe-ordinary"),
               sluggish = settingsOf("lathe-sluggish");
    CHECK(nimble.pitch_slew_um_per_rev_s > ordinary.pitch_slew_um_per_rev_s);
    CHECK(ordinary.pitch_slew_um_per_rev_s > sluggish.pitch_slew_um_per_rev_s);
    CHECK(nimble.carriage_lag_s < ordinary.carriage_lag_s);
    CHECK(ordinary.carriage_lag_s < sluggish.carriage_lag_s);
    CHECK(nimble.depth_slew_um_s > ordinary.depth_slew_um_s);
    CHECK(ordinary.depth_slew_um_s > sluggish.depth_slew_um_s);
}

TEST_CASE("A preset file is loaded by its path, and its numbers come through to the bit") {
    const TestFolder folder;
    put(folder / "mine.json", withSettings(R"("land_min_um": 14.100000000000001, "sectors_per_turn": 400)"));
    cut::CutSettings settings;
    REQUIRE(applyPreset(settings, loadPreset(folder / "mine.json"), "mine").empty());
    CHECK(settings.land_min_um == 14.100000000000001);
    CHECK(settings.sectors_per_turn == 400);
}

TEST_CASE("A preset's format is applied before its other values, whatever their order") {
    cut::CutSettings settings;
    REQUIRE(applyPreset(settings, parse(withSettings(R"("preview_s": 3.5, "format": "17cm-45")")), "mine")
                .empty());
    CHECK(settings.discFormat().key == "17cm-45");
    CHECK(settings.preview_s == 3.5);
    CHECK(settings.rpm == 45);
}

TEST_CASE("What is no preset is refused, naming the file") {
    CHECK_THAT(problemOf(""), Contains("is not JSON"));
    CHECK_THAT(problemOf("pitch = 3"), Contains("is not JSON"));
    CHECK_THAT(problemOf(R"({"headland_preset": 1,)"), Contains("is not JSON"));
    CHECK_THAT(problemOf("[1, 2]"), Contains("must be one {…}"));
    CHECK_THAT(problemOf(R"({"settings": {}})"), Contains("\"headland_preset\": 1 is missing"));
    CHECK_THAT(problemOf(R"({"headland_preset": 2, "cutter": []})"),
               Contains("headland_preset is 2") && Contains("newer"));
    CHECK_THAT(problemOf(R"({"headland_preset": 0, "settings": {}})"), Contains("headland_preset is 0"));
    CHECK_THAT(problemOf(R"({"headland_preset": 1, "name": "x"})"), Contains("settings must be there"));
    CHECK_THAT(problemOf(R"({"headland_preset": 1, "settings": {}, "setings": {}})"), Contains("'setings'"));
    CHECK_THAT(problemOf(R"({"headland_preset": 1, "name": 3, "settings": {}})"),
               Contains("name must be text"));
    CHECK_THAT(problemOf("\xff\xfe{\"headland_preset\": 1}"), Contains("line 1, column 1 (byte 1)"));
    CHECK_THAT(problemOf(std::string(500000, '[')), Contains("deep"));
    CHECK_THAT(problemOf("{\"headland_preset\": 1, \"settings\": " + std::string(200000, '[')),
               Contains("deep"));
    CHECK_THAT(problemOf(withSettings(R"("rpm": 45)") + "x"), Contains("is not JSON: line 1"));
    CHECK_THAT(problemOf(withSettings(R"("rpm": 045)")), Contains("is not JSON: line 1"));
    CHECK_THAT(problemOf(withSettings(R"("rpm": 45, "rpm": 78)")), Contains("'rpm' stands twice"));
}

TEST_CASE("A wrong setting is refused, naming the key") {
    CHECK_THAT(problemOf(withSettings(R"("land_um": 12)")), Contains("'land_um' is not a setting"));
    CHECK_THAT(problemOf(withSettings(R"("land_min_um": "12")")),
               Contains("land_min_um must be a plain number"));
    CHECK_THAT(problemOf(withSettings(R"("land_min_um": true)")),
               Contains("land_min_um must be a plain number"));
    CHECK_THAT(problemOf(withSettings(R"("land_min_um": [12])")),
               Contains("land_min_um must be a plain number"));
    CHECK_THAT(problemOf(withSettings(R"("format": 1)")), Contains("format must be text"));
    const auto problems = parse(withSettings(R"("land_um": 12, "preview_s": null, "rpm": 45)")).problems;
    CHECK(problems.size() == 2); // all of them, not the first only
}

TEST_CASE("A value that the settings refuse is reported with the preset's name") {
    cut::CutSettings settings;
    const auto problems =
        applyPreset(settings, parse(withSettings(R"("format": "40cm", "sectors_per_turn": 3.5)")), "mine");
    REQUIRE(problems.size() == 2);
    CHECK_THAT(problems[0], StartsWith("mine: format: '40cm'"));
    CHECK_THAT(problems[1], StartsWith("mine: sectors_per_turn: '3.5'"));
}

TEST_CASE("What a preset's names and texts hold cannot steer a terminal") {
    const auto preset = parse(
        R"({"headland_preset": 1, "name": "\u001b[2J", "about": "\u202e\n", "settings": )"
        R"({"format": "\u001b]0;mine\u0007\nheadland: The side can be cut.", "\u001b[A": 1}, "\u009b": 2})");
    cut::CutSettings settings;
    auto said = applyPreset(settings, preset, "mine");
    said.push_back(preset.name);
    said.push_back(preset.about);
    CHECK(said.size() == 5);
    for (const auto& text : said)
        CHECK(text == text::printable(text));
}

TEST_CASE("A preset that cannot be read is refused in words") {
    const TestFolder folder;
    const auto problem = [](const std::string& path) {
        const auto preset = loadPreset(path);
        REQUIRE(preset.problems.size() == 1);
        return preset.problems[0];
    };
    CHECK_THAT(problem("lathe-of-dreams"), Contains("There is no preset 'lathe-of-dreams'"));
    CHECK_THAT(problem(folder.path().string()), Contains("is not a file"));
    CHECK_THAT(problem("/proc/self/mem"), Contains("cannot be read")); // the system calls it a regular file
    REQUIRE(::mkfifo((folder / "pipe").c_str(), 0600) == 0);
    CHECK_THAT(problem(folder / "pipe"), Contains("is not a file")); // and nobody waits for it
    CHECK_THAT(problem("/dev/zero"), Contains("is not a file"));
    put(folder / "big.json", std::string((1 << 20) + 1, ' '));
    CHECK_THAT(problem(folder / "big.json"), Contains("over a megabyte"));
}

TEST_CASE("A written preset reads back to the same bits, every setting of it") {
    const TestFolder folder;
    Random random(5);
    for (auto round = 0; round < 50; ++round) {
        const auto written = anySettings(random);
        writePreset(folder / "mine.json", written, "Mine", "For a test.", {});
        const auto preset = loadPreset(folder / "mine.json");
        REQUIRE(preset.settings.size() == cut::settingsTable().size());
        cut::CutSettings read;
        REQUIRE(applyPreset(read, preset, "mine").empty());
        for (const auto& setting : cut::settingsTable()) {
            INFO(setting.key << " " << cut::getText(written, setting));
            CHECK(cut::getNumber(read, setting) == cut::getNumber(written, setting));
        }
    }
    CHECK(folder.count() == 1);
}

TEST_CASE("A written preset is laid out as the supplied ones, name and about as they were given") {
    const std::string name = "Späte \"Pressung\" {1}", about = "Land in µm.\tA\\B";
    const auto text = presetText({}, name, about);
    CHECK_THAT(text, StartsWith("{\n    \"headland_preset\": 1,\n    \"name\": \""));
    CHECK_THAT(text, Contains("\n    \"settings\": {\n        \"format\": \"30cm-33\",\n"));
    CHECK_THAT(text, Contains("\n        \"land_min_um\": 12.0,\n"));
    CHECK_THAT(text, EndsWith("\n    }\n}\n"));
    const auto preset = parse(text);
    CHECK(preset.problems.empty());
    CHECK(preset.name == name);
    CHECK(preset.about
          == "Land in µm.\xef\xbf\xbd"
             "A\\B"); // a tab is no text
}

TEST_CASE("A preset of a newer version is refused, whatever it holds") {
    auto text = presetText({}, "Mine", "For a test.");
    const std::string version = "\"headland_preset\": 1";
    text.replace(text.find(version), version.size(), "\"headland_preset\": 2");
    CHECK_THAT(problemOf(text), Contains("headland_preset is 2") && Contains("use a newer headland"));
}

TEST_CASE("A preset that cannot be written is refused in words, and an older one stays") {
    const TestFolder folder;
    CHECK_THROWS_WITH(writePreset(folder / "none/mine.json", {}, "", "", {}), Contains("there is no folder"));
    CHECK_THROWS_WITH(writePreset(folder.path().string(), {}, "", "", {}), Contains("it is a folder"));
    CHECK_THROWS_WITH(writePreset("/proc/mine.json", {}, "", "", {}), Contains("a folder you may write to"));
    put(folder / "mine.json", "older");
    cut::CutSettings notANumber;
    notANumber.land_min_um = std::numeric_limits<double>::quiet_NaN();
    CHECK_THROWS_AS(writePreset(folder / "mine.json", notANumber, "", "", {}), OutputError);
    CHECK_THROWS_WITH(writePreset(folder / "mine.json", {}, std::string(2 << 20, 'a'), "", {}),
                      Contains("read again"));
    CHECK(contentOf(folder / "mine.json") == "older");
    CHECK(folder.count() == 1);
}
