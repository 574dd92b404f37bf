// SPDX-License-Identifier: GPL-3.0-or-later
// The level search against programs whose answer is known: pitch in proportion to the amplitude, pitch held by the
// greatest pitch, and pitch that grows in steps.

#include "Console/LevelSearch.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <stdexcept>

using namespace headland;
using namespace headland::console;

namespace {

constexpr double turns = 700;

using PitchAtLevel = std::function<double(double level_db)>;

cut::CutSummary summaryAt(const cut::CutSettings& settings, const PitchAtLevel& meanPitch_um) {
    cut::CutSummary summary;
    summary.turns = turns;
    const auto radius_mm = settings.start_radius_mm - turns * meanPitch_um(settings.disc_level_db) / 1000;
    summary.endDiameter_mm = 2 * radius_mm;
    summary.fits = radius_mm >= settings.end_radius_mm;
    return summary;
}

/// The highest tenth of a dB that fits, by trying them all.
double answer(cut::CutSettings settings, const PitchAtLevel& pitch) {
    for (auto tenth = static_cast<int>(std::floor(settings.disc_level_db * 10)); tenth >= -400; --tenth) {
        settings.disc_level_db = tenth / 10.0;
        if (summaryAt(settings, pitch).fits)
            return settings.disc_level_db;
    }
    return -1000;
}

struct Searched {
    LevelSearchResult result;
    std::vector<double> tried_db;
};

Searched search(const cut::CutSettings& settings, const PitchAtLevel& pitch) {
    Searched searched;
    searched.result = searchLevel(settings, summaryAt(settings, pitch), [&](const cut::CutSettings& trial) {
        searched.tried_db.push_back(trial.disc_level_db);
        return summaryAt(trial, pitch);
    });
    return searched;
}

PitchAtLevel proportional(double silent_um, double extra_um) {
    return [=](double level_db) { return silent_um + extra_um * std::pow(10, level_db / 20); };
}

} // namespace

TEST_CASE("The level found is the highest tenth of a dB that fits") {
    cut::CutSettings settings;
    for (const auto present_db : {0.0, 3.7, -2.25})
        for (const auto extra_um : {62.0, 80.0, 150.0, 700.0}) {
            settings.disc_level_db = present_db;
            const auto pitch = proportional(62, extra_um * std::pow(10, -present_db / 20));
            const auto searched = search(settings, pitch);
            INFO("present " << present_db << " dB, extra " << extra_um << " µm");
            REQUIRE(searched.result.outcome == LevelSearchResult::Outcome::found);
            CHECK(searched.result.level_db == Approx(answer(settings, pitch)).margin(1e-9));
            CHECK(searched.result.isHighest);
            CHECK(searched.result.cut.fits);
            CHECK(searched.result.runs == static_cast<int>(searched.tried_db.size()));
            CHECK(searched.result.runs <= 4);
        }
}

TEST_CASE("A pitch that saturates or moves in steps is searched within the runs, and the result fits") {
    cut::CutSettings settings;
    settings.disc_level_db = 12;
    const auto saturating = [](double level_db) {
        return std::min(400.0, 62 + 300 * std::pow(10, level_db / 20));
    };
    const auto stepped = [](double level_db) {
        return 62 + 20 * std::floor(4 * std::pow(10, level_db / 20));
    };
    for (const auto& pitch : {PitchAtLevel(saturating), PitchAtLevel(stepped)}) {
        const auto searched = search(settings, pitch);
        REQUIRE(searched.result.outcome == LevelSearchResult::Outcome::found);
        CHECK(searched.result.runs <= levelSearchRunsMax);
        CHECK(searched.result.cut.fits);
        CHECK(searched.result.level_db <= answer(settings, pitch) + 1e-9);
        if (searched.result.isHighest)
            CHECK(searched.result.level_db == Approx(answer(settings, pitch)).margin(1e-9));
    }
}

TEST_CASE("When even silence does not fit, no level is tried") {
    cut::CutSettings settings;
    settings.start_radius_mm =
        settings.end_radius_mm + turns * 0.062 - 0.01; // a hair less than silence needs
    const auto searched = search(settings, proportional(62, 10));
    CHECK(searched.result.outcome == LevelSearchResult::Outcome::noLevelHelps);
    CHECK(searched.tried_db.empty());
    CHECK(silentRoom_mm(settings, turns) == Approx(-0.01));
}

TEST_CASE("Silence is spaced by the wider of least pitch and groove with land") {
    cut::CutSettings settings; // 2 x 25 + 12 = 62 µm against a least pitch of 50
    CHECK(silentRoom_mm(settings, 1000) == Approx(settings.start_radius_mm - settings.end_radius_mm - 62));
    settings.pitch_min_um = 80;
    CHECK(silentRoom_mm(settings, 1000) == Approx(settings.start_radius_mm - settings.end_radius_mm - 80));
}

TEST_CASE("A program that fits at no level tried is not said to fit") {
    const cut::CutSettings settings;
    const auto searched = search(settings, [](double) { return 200.0; });
    CHECK(searched.result.outcome == LevelSearchResult::Outcome::notFound);
    CHECK(searched.result.runs <= levelSearchRunsMax);
    for (const auto level_db : searched.tried_db)
        CHECK(level_db >= -40);
}

TEST_CASE("Levels above the present one are never tried, and a stop ends the search") {
    cut::CutSettings settings;
    settings.disc_level_db = 1.3;
    for (const auto level_db : search(settings, proportional(62, 300)).tried_db)
        CHECK(level_db < 1.3);
    const auto hairTooLong =
        proportional(62, 60.82 * std::pow(10, -1.29 / 20)); // fits at 1.29 dB, not at 1.3
    REQUIRE_FALSE(summaryAt(settings, hairTooLong).fits);
    const auto searched = search(settings, hairTooLong);
    CHECK(searched.result.level_db == Approx(1.2));
    for (const auto level_db : searched.tried_db)
        CHECK(level_db < 1.3);
    const auto present = summaryAt(settings, proportional(62, 300));
    CHECK_THROWS_WITH(
        searchLevel(settings, present,
                    [](const auto&) -> cut::CutSummary { throw std::runtime_error("stopped"); }),
        "stopped");
}
