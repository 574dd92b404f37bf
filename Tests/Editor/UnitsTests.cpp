// SPDX-License-Identifier: GPL-3.0-or-later
// The switch of units, against the definition of the inch: 25.4 mm exactly (international yard and pound agreement, 1959), a
// mil its thousandth; lines are the length divided by the pitch.
#include "Editor/Units.h"

#include "Cut/SettingsTable.h"
#include "Disc/Format.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <regex>

using namespace headland;
using Catch::Contains;
using editor::inUnits;
using editor::Units;

TEST_CASE("Lengths in µm and mm, in mil and inches") {
    CHECK(editor::shortLength(101.6, Units::metric) == "101.6 µm");
    CHECK(editor::shortLength(101.6, Units::inch) == "4.00 mil");
    CHECK(editor::shortLength(-3.81, Units::inch) == "-0.15 mil");
    CHECK(editor::shortLength(25.4, Units::inch, 0) == "1.0 mil");
    CHECK(editor::longLength(292.6, Units::metric) == "292.6 mm");
    CHECK(editor::longLength(292.6, Units::inch) == "11.520 in"); // 11.51968
    CHECK(editor::longLength(304.8, Units::inch) == "12.000 in");
    CHECK(editor::longLength(146.05, Units::metric, 2) == "146.05 mm");
    CHECK(editor::longLength(146.05, Units::inch, 2) == "5.7500 in");
}

TEST_CASE("A pitch as lines to a length") {
    CHECK(editor::lines(101.6, Units::inch) == "250 lines per inch");
    CHECK(editor::lines(100, Units::inch) == "254 lines per inch");
    CHECK(editor::lines(100, Units::metric) == "100.0 lines per cm");
    CHECK(editor::lines(101.6, Units::metric) == "98.4 lines per cm");
    for (const auto units : {Units::metric, Units::inch}) {
        CHECK(editor::lines(0.049, units) == "standing still");
        CHECK(editor::lines(0, units) == "standing still");
        CHECK(editor::lines(0.05, units) != "standing still");
    }
}

TEST_CASE("What is not finite is a dash in either unit") {
    for (const auto units : {Units::metric, Units::inch})
        for (const auto value : {NAN, static_cast<float>(INFINITY), -static_cast<float>(INFINITY)}) {
            CHECK(editor::shortLength(value, units) == "-");
            CHECK(editor::longLength(value, units) == "-");
            CHECK(editor::lines(value, units) == "-");
            CHECK(editor::shownValue(value, "µm", units) == "-");
        }
}

TEST_CASE("A value of the table is shown in the unit that takes its unit's place") {
    const auto inches = [](double value, const char* unit) {
        return editor::shownValue(value, unit, Units::inch);
    };
    CHECK(inches(101.6, "µm") == "4 mil");
    CHECK(inches(12, "µm") == "0.47244 mil");
    CHECK(inches(146.05, "mm") == "5.75 in");
    CHECK(inches(5.08, "cm/s") == "2 in/s");
    CHECK(inches(254, "µm/s") == "10 mil/s");
    CHECK(inches(254, "µm/rev/s") == "10 mil/rev/s");
    CHECK(inches(12, "dB") == "12 dB");
    CHECK(inches(12, "") == "12");
    CHECK(editor::shownValue(12, "µm", Units::metric) == "12 µm");
}

TEST_CASE("Every figure of a sentence made elsewhere is turned, as finely as it was given") {
    const auto inches = [](const char* text) { return inUnits(text, Units::inch); };
    CHECK(inches("expected at 152.4 mm ± 3.6 mm, and") == "expected at 6.000 in ± 0.142 in, and");
    CHECK(inches("0 to 200 µm") == "0 to 7.87 mil");
    CHECK(inches("25.4 to 254 µm") == "1.00 to 10.00 mil");
    CHECK(inches("25.4–254 µm") == "1.00–10.00 mil");
    CHECK(inches("152.4 ± 2.54 mm") == "6.000 ± 0.1000 in");
    CHECK(inches("262.1 mm (11.2 µm).") == "10.319 in (0.44 mil).");
    CHECK(inches("± 3.6 mm") == "± 0.142 in");
    CHECK(inches("between 20 and 1000 µm.") == "between 0.79 and 39.37 mil.");
    CHECK(inches("sectors 3 and 25.4 µm") == "sectors 3 and 1.00 mil");
    CHECK(inches("land -3.2 µm") == "land -0.13 mil");
    CHECK(inches("1e+04 µm") == "393.70 mil");
    CHECK(inches("12µm") == "0.47 mil");
    CHECK(inches("400 µm/rev/s, 300 µm/s, 5 cm/s, 25.4 mm/s")
          == "15.75 mil/rev/s, 11.81 mil/s, 1.97 in/s, 1.000 in/s");
    CHECK(inches("64.516 cm² of it") == "10.0000 sq in of it");
    CHECK(inches("400 µm per revolution per second") == "15.75 mil per revolution per second");
    CHECK(inches("12 µm, within the usual 8 to 20; common practice")
          == "0.47 mil, within the usual 0.31 to 0.79; common practice");
    CHECK(inches("the usual 8 to 20; 12 µm") == "the usual 8 to 20; 0.47 mil");
    CHECK(inches("Half of 4 3/4 in (RIAA 1963): kinder than the 57.5 mm that DIN 45547:1981 allows.")
          == "Half of 4 3/4 in (RIAA 1963): kinder than the 2.264 in that DIN 45547:1981 allows.");
}

TEST_CASE("Lines to a length are turned both ways, everything else stays in metric") {
    CHECK(inUnits("101.6 µm, 250 lines per inch", Units::metric) == "101.6 µm, 98.4 lines per cm");
    CHECK(inUnits("98.4252 lines per cm.", Units::inch) == "250 lines per inch.");
    CHECK(inUnits("250 lines per inch", Units::inch) == "250 lines per inch");
    const std::string text = "at 152.4 mm ± 3.6 mm, 0 to 200 µm, the usual 8 to 20, 4 3/4 in";
    CHECK(inUnits(text, Units::metric) == text);
}

TEST_CASE("Names, dashes and figures without a unit stay as they are") {
    for (const auto* text :
         {"", "-", "- ± - mm", "Nothing is wrong.", "land_min_um is wrong", "format 30cm-33, 33 1/3 rpm",
          "12 mms, 12 mm2, x12 mm_, 44100 and 192000 Hz", "'side 30 mm.wav' is no sound",
          "side 30 mm.wav is no sound", "/takes/30 mm groove/a 12 µm.wav is gone", "IEC 60098:1987, 8.5",
          "12:30.0", "the stylus' angle, the disc's middle", "20 to 90 rpm"}) {
        INFO(text);
        CHECK(inUnits(text, Units::inch) == text);
    }
    // What stands beside a name is turned all the same.
    CHECK(inUnits("format 30cm-33, 25.4 mm; in /takes/a 30 mm b/c.wav: 25.4 mm", Units::inch)
          == "format 30cm-33, 1.000 in; in /takes/a 30 mm b/c.wav: 1.000 in");
    CHECK(inUnits("the stylus' back, 25.4 µm, the disc's middle", Units::inch)
          == "the stylus' back, 1.00 mil, the disc's middle");
}

TEST_CASE("A round size of a disc is a round size in inches") {
    CHECK(inUnits(std::string(disc::formats()[0].name), Units::inch) == "12 in, 33 1/3 rpm");
    CHECK(inUnits("25 cm", Units::inch) == "10 in");
    CHECK(inUnits("17 cm", Units::inch) == "7 in");
    CHECK(inUnits("5 cm", Units::inch) == "2.0 in");
    CHECK(inUnits("25.4 cm", Units::inch) == "10.00 in");
}

TEST_CASE("No text of the table of settings keeps a metric unit") {
    static const std::regex metric("µm|\\b(mm|cm)\\b");
    int turned = 0;
    for (const auto& setting : cut::settingsTable())
        for (const auto text : {setting.does, setting.reason}) {
            const std::string before(text);
            const auto after = inUnits(before, Units::inch);
            INFO(after);
            CHECK_FALSE(std::regex_search(after, metric));
            turned += after != before;
        }
    CHECK(turned >= 15);
}

TEST_CASE("A long text is turned in a moment and whole") {
    std::string text, wanted;
    for (int i = 0; i < 2000; ++i) {
        text += "land 25.4 µm, ";
        wanted += "land 1.00 mil, ";
    }
    CHECK((inUnits(text, Units::inch) == wanted));
}
