// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers with units. An inch is 25.4 mm by definition (international yard and pound agreement, 1959), a mil its
// thousandth; lines per inch are the inch divided by the pitch.
#include "Cut/SettingsTable.h"
#include "Cut/UnitText.h"

#include <catch2/catch.hpp>

using namespace headland;
using cut::valueFromText;

TEST_CASE("A pitch is read in every unit of the trade", "[settings]") {
    const auto pitch_um = [](const char* text) { return valueFromText(text, "µm", true).value(); };
    CHECK(pitch_um("102") == 102);
    CHECK(pitch_um("102 µm") == 102);
    CHECK(pitch_um(" 102um ") == 102);
    CHECK(pitch_um("250 lpi") == Approx(101.6).epsilon(1e-12));
    CHECK(pitch_um("100 lpcm") == Approx(100).epsilon(1e-12));
    CHECK(pitch_um("4 mil") == Approx(101.6).epsilon(1e-12));
    CHECK(pitch_um("0.1 mm") == Approx(100).epsilon(1e-12));
    CHECK(pitch_um("0.004 in") == Approx(101.6).epsilon(1e-12));
}

TEST_CASE("Other quantities are read in their units and in no others", "[settings]") {
    CHECK(valueFromText("5.75 in", "mm", false).value() == Approx(146.05).epsilon(1e-12));
    CHECK(valueFromText("50 ms", "s", false).value() == Approx(0.05).epsilon(1e-12));
    CHECK(valueFromText("20 min", "s", false).value() == 1200);
    CHECK(valueFromText("-3 dB", "dB", false).value() == -3);
    CHECK(valueFromText("0.02 kHz", "Hz", false).value() == Approx(20).epsilon(1e-12));
    CHECK(valueFromText("3", "", false).value() == 3);
    CHECK(valueFromText("1,5", "µm", true).value() == 1.5);
    for (const auto* wrong : {"250 lpi", "12 mils", "12 s", "12 µm µm"})
        CHECK_FALSE(valueFromText(wrong, "µm", false));
    for (const auto* wrong :
         {"", " ", "µm", "1,234.5", "1,2,3", "nan", "inf", "1e999", "0 lpi", "- 3", "0x10"})
        CHECK_FALSE(valueFromText(wrong, "µm", true));
}

TEST_CASE("Speeds are read in inches where they are read in metric units", "[settings]") {
    const auto read = [](const char* text, const char* unit) {
        return valueFromText(text, unit, false).value();
    };
    CHECK(read("10 mil/s", "µm/s") == Approx(254).epsilon(1e-12));
    CHECK(read("0.01 in/s", "µm/s") == Approx(254).epsilon(1e-12));
    CHECK(read("10 mil/rev/s", "µm/rev/s") == Approx(254).epsilon(1e-12));
    CHECK(read("0.01 in/rev/s", "µm/rev/s") == Approx(254).epsilon(1e-12));
    CHECK(read("2 in/s", "cm/s") == Approx(5.08).epsilon(1e-12));
    CHECK(read("15 in/s", "cm/s") == Approx(38.1).epsilon(1e-12)); // a tape's
    CHECK_FALSE(valueFromText("10 mil/s", "µm/rev/s", false));
    CHECK_FALSE(valueFromText("10 mil/rev/s", "µm/s", false));
    CHECK_FALSE(valueFromText("10 mil", "µm/s", false));
}

TEST_CASE("A value is shown with its unit and read back", "[settings]") {
    CHECK(cut::textWithUnit(102, "µm") == "102 µm");
    CHECK(cut::textWithUnit(100.0 / 3, "rpm") == "33.333 rpm");
    CHECK(cut::textWithUnit(0.001, "") == "0.001");
    const cut::CutSettings defaults;
    for (const auto& setting : cut::settingsTable()) {
        const auto value = cut::getNumber(defaults, setting);
        const auto text = cut::textWithUnit(value, setting.unit);
        INFO(setting.key << ": " << text);
        CHECK(valueFromText(text, setting.unit, setting.isPitch()).value() == Approx(value).epsilon(1e-4));
    }
}

TEST_CASE("A setting takes a unit, and names those it takes when it does not", "[settings]") {
    cut::CutSettings s;
    CHECK_FALSE(cut::setFromText(s, "pitch_max_um", "100 lpi"));
    CHECK(s.pitch_max_um == Approx(254));
    const auto problem = cut::setFromText(s, "land_min_um", "250 lpi");
    REQUIRE(problem);
    CHECK(problem->find("µm, um, mm, mil, in.") != std::string::npos);
    CHECK(s.land_min_um == 12);
}
