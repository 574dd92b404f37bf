// SPDX-License-Identifier: GPL-3.0-or-later
// The settings table against the struct it describes, and what validate() refuses.
#include "Cut/SettingsTable.h"

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
