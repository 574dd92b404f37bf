// SPDX-License-Identifier: GPL-3.0-or-later
// The settings table against the struct it describes, and what validate() refuses.
#include "Cut/SettingsTable.h"

#include "Cut/SlopeLimit.h"

#include <catch2/catch.hpp>
#include <set>

using namespace headland;
using cut::CutSettings;

namespace {

bool mentions(const std::vector<std::string>& problems, const std::string& word) {
    for (const auto& problem : problems)
        if (problem.find(word) != std::string::npos)
            return true;
    return false;
}

} // namespace

TEST_CASE("The keys the log's description promises are in the table, each once, each with its reason",
          "[settings]") {
    const std::set<std::string> promised{"format",
                                         "rpm",
                                         "start_radius_mm",
                                         "end_radius_mm",
                                         "sectors_per_turn",
                                         "reference_velocity_cm_s",
                                         "alignment_dbfs",
                                         "disc_level_db",
                                         "highpass_hz",
                                         "land_min_um",
                                         "width_min_um",
                                         "depth_basic_um",
                                         "depth_max_um",
                                         "depth_slew_um_s",
                                         "pitch_min_um",
                                         "pitch_max_um",
                                         "pitch_slew_um_per_rev_s",
                                         "carriage_lag_s",
                                         "preview_s",
                                         "speed_tolerance",
                                         "lead_in_pitch_um",
                                         "lead_in_turns",
                                         "lead_out_pitch_um",
                                         "lead_out_turns"};
    std::set<std::string> keys;
    for (const auto& setting : cut::settingsTable()) {
        INFO(setting.key);
        REQUIRE(keys.insert(std::string(setting.key)).second);
        REQUIRE_FALSE(setting.does.empty());
        REQUIRE_FALSE(setting.reason.empty());
        REQUIRE(setting.least < setting.greatest);
        const auto value = cut::getNumber(CutSettings{}, setting);
        REQUIRE(value >= setting.least);
        REQUIRE(value <= setting.greatest);
    }
    for (const auto& key : promised)
        REQUIRE(keys.count(key) == 1);
}

TEST_CASE("Every setting survives text and back to the same bits", "[settings]") {
    CutSettings original;
    original.land_min_um = 0.1 + 0.2;
    original.rpm = 100.0 / 3;
    CutSettings copy;
    copy.rpm = 45;
    for (const auto& setting : cut::settingsTable())
        REQUIRE_FALSE(cut::setFromText(copy, setting.key, cut::getText(original, setting)).has_value());
    for (const auto& setting : cut::settingsTable())
        REQUIRE(cut::getNumber(copy, setting) == cut::getNumber(original, setting));
}

TEST_CASE("Text that is no value is refused in words and changes nothing", "[settings]") {
    const CutSettings original;
    for (const auto& [key, text] : {std::pair{"land_min_um", "twelve"},
                                    {"land_min_um", "12 lpi"},
                                    {"land_min_um", ""},
                                    {"land_min_um", "nan"},
                                    {"rpm", "1e999"},
                                    {"sectors_per_turn", "256.5"},
                                    {"format", "40cm-16"},
                                    {"no_such", "1"}}) {
        CutSettings settings;
        const auto problem = cut::setFromText(settings, key, text);
        INFO(key << "=" << text);
        REQUIRE(problem.has_value());
        REQUIRE(problem->find(key) != std::string::npos);
        for (const auto& setting : cut::settingsTable())
            REQUIRE(cut::getNumber(settings, setting) == cut::getNumber(original, setting));
    }
}

TEST_CASE("A number in a message is one that a person would write", "[settings]") {
    CutSettings settings;
    CHECK(cut::setFromText(settings, "rpm", "fast")->find("write it like 33.3333, in ") != std::string::npos);
    settings.land_min_um = 1e300;
    settings.pitch_max_um = -1.5e17;
    settings.preview_s = 2.5e-9;
    const auto problems = cut::validate(settings, 44100);
    CHECK(mentions(problems, "land_min_um is 1e+300 µm; it must lie between 0 and 200 µm"));
    CHECK(mentions(problems, "pitch_max_um is -1.5e+17 µm; "));
    CHECK(mentions(problems, "preview_s is 2.5e-09 s; "));
    for (const auto& problem : problems)
        CHECK(problem.size() < 250);
}

TEST_CASE("However far out of range a setting is, it is refused at once", "[settings]") {
    for (const auto& setting : cut::settingsTable())
        for (const auto value :
             {-1e300, -1e17, -1e9, -1.0, 0.0, 1e-300, 1e9, 1e300, std::numeric_limits<double>::infinity(),
              -std::numeric_limits<double>::infinity(), std::numeric_limits<double>::quiet_NaN()}) {
            if (setting.isWhole() && !(std::abs(value) <= 1e6))
                continue; // no text comes to that
            CutSettings settings;
            cut::setNumber(settings, setting, value);
            INFO(setting.key << " = " << value);
            const auto problems = cut::validate(settings, 44100);
            CHECK((value >= setting.least && value <= setting.greatest)
                  != mentions(problems, std::string(setting.key) + " is "));
        }
}

TEST_CASE("What is just allowed is allowed, and a hair more is not", "[settings]") {
    const auto isAllowed = [](auto change) {
        CutSettings settings;
        change(settings);
        return cut::validate(settings, 44100).empty();
    };
    for (const auto more : {0.0, 0.01}) {
        const auto expected = more == 0;
        CHECK(isAllowed([=](auto& s) { s.depth_basic_um = s.depth_max_um + more; }) == expected);
        CHECK(isAllowed([=](auto& s) { s.width_min_um = 2 * s.depth_basic_um + more; }) == expected);
        CHECK(isAllowed([=](auto& s) { s.pitch_min_um = s.pitch_max_um + more; }) == expected);
        CHECK(isAllowed([=](auto& s) { s.depth_max_um = s.depth_peak_max_um + more; }) == expected);
        CHECK(isAllowed([=](auto& s) { s.pitch_max_um = 2 * s.depth_basic_um + s.land_min_um - more; })
              == expected);
        CHECK(isAllowed([=](auto& s) { s.start_radius_mm = 292.6 / 2 + more; }) == expected);
        CHECK(isAllowed([=](auto& s) { s.end_radius_mm = s.start_radius_mm - 0.01 + more; }) == expected);
        CHECK(isAllowed([=](auto& s) {
                  s.lead_in_turns =
                      (s.discFormat().discDiameter_mm / 2 - s.start_radius_mm) * 1000 / s.lead_in_pitch_um
                      + more;
              })
              == expected);
    }
    for (const auto& setting : cut::settingsTable()) { // its own range, whatever else that contradicts
        CutSettings settings;
        const auto said = [&](double value) {
            cut::setNumber(settings, setting, value);
            return mentions(cut::validate(settings, 44100), std::string(setting.key) + " is ");
        };
        INFO(setting.key);
        const auto hair = setting.isWhole() ? 1 : 1e-6 * (setting.greatest - setting.least);
        CHECK_FALSE(said(setting.least));
        CHECK_FALSE(said(setting.greatest));
        if (setting.key != "format") // one there is not cannot be set
            CHECK((said(setting.least - hair) && said(setting.greatest + hair)));
    }
}

TEST_CASE("Where the lead-out lacks room, the radius that is named is just enough", "[settings]") {
    CutSettings settings;
    settings.finishing_radius_mm = 55;
    settings.end_radius_mm = 57.5;
    const auto problems = cut::validate(settings, 44100);
    REQUIRE(problems.size() == 1);
    const std::string before = "which must begin at ";
    const auto named_mm = std::stod(problems[0].substr(problems[0].find(before) + before.size()));
    settings.end_radius_mm = named_mm;
    CHECK(cut::validate(settings, 44100).empty());
    settings.end_radius_mm = named_mm - 0.011;
    CHECK(cut::validate(settings, 44100).size() == 1);
}

TEST_CASE("The limit of the slope is the tangent of the back angle", "[settings]") {
    CutSettings settings;
    for (const auto& [angle_deg, tangent] :
         {std::pair{45.0, 1.0}, {60.0, std::sqrt(3.0)}, {30.0, 1 / std::sqrt(3.0)}}) {
        settings.back_angle_deg = angle_deg;
        CHECK(cut::slopeLimit(settings) == Approx(tangent));
    }
}

TEST_CASE("Every format with the other defaults is a valid set-up at every usual rate", "[settings]") {
    for (int format = 0; format < static_cast<int>(disc::formats().size()); ++format)
        for (const auto rate_hz : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0}) {
            CutSettings settings;
            settings.applyFormat(format);
            REQUIRE(cut::validate(settings, rate_hz).empty());
        }
}

TEST_CASE("The defaults are those of the first format", "[settings]") {
    CutSettings settings;
    settings.applyFormat(0);
    for (const auto& setting : cut::settingsTable())
        REQUIRE(cut::getNumber(settings, setting) == Approx(cut::getNumber(CutSettings{}, setting)));
}

TEST_CASE("All problems are listed at once, each naming its setting", "[settings]") {
    CutSettings settings;
    settings.land_min_um = -1;
    settings.depth_basic_um = 80;
    settings.pitch_min_um = 500;
    settings.end_radius_mm = 150;
    settings.highpass_hz = 500;
    const auto problems = cut::validate(settings, 22050);
    REQUIRE(mentions(problems, "land_min_um"));
    REQUIRE(mentions(problems, "depth_basic_um (80 µm) is above depth_max_um (60 µm)"));
    REQUIRE(mentions(problems, "pitch_min_um (500 µm) is above pitch_max_um (400 µm)"));
    REQUIRE(mentions(problems, "end_radius_mm"));
    REQUIRE(mentions(problems, "highpass_hz"));
    REQUIRE(mentions(problems, "sample rate"));
    for (const auto& problem : problems) {
        REQUIRE(problem.back() == '.');
        REQUIRE(problem.find(';') != std::string::npos); // what is wrong; what to do
    }
}

TEST_CASE("Each contradiction is refused by itself", "[settings]") {
    const auto refuses = [](auto change, const std::string& word) {
        CutSettings settings;
        change(settings);
        const auto problems = cut::validate(settings, 44100);
        INFO(word);
        REQUIRE_FALSE(problems.empty());
        REQUIRE(mentions(problems, word));
    };
    refuses([](auto& s) { s.width_min_um = 60; }, "wider than the unmodulated groove");
    refuses([](auto& s) { s.pitch_max_um = 60; }, "cannot even space silence");
    refuses([](auto& s) { s.start_radius_mm = 150; }, "outermost modulated");
    refuses([](auto& s) { s.end_radius_mm = 55; }, "innermost modulated");
    refuses([](auto& s) { s.finishing_radius_mm = 70; }, "finishing_radius_mm");
    refuses([](auto& s) { s.lead_in_turns = 6; }, "off the disc");
    refuses(
        [](auto& s) {
            s.preview_s = 0.05;
            s.preview_tolerance_s = 0.1;
        },
        "used up by the tolerances");
    refuses(
        [](auto& s) {
            s.preview_tolerance_s = 0.5;
            s.rpm = 78;
            s.preview_s = 5;
        },
        "whole turn");
    refuses([](auto& s) { s.rpm = std::numeric_limits<double>::quiet_NaN(); }, "rpm");
}
