// SPDX-License-Identifier: GPL-3.0-or-later
// The delays that are tried, and the tape they take.

#include "Cut/DelayList.h"

#include "Cut/TapePath.h"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace headland;
using Catch::Matchers::Contains;

namespace {

constexpr double rate_hz = 44100;

std::vector<double> delays_s(const cut::DelayList& list) {
    std::vector<double> result;
    for (const auto& trial : list.trials)
        result.push_back(trial.preview_s);
    return result;
}

} // namespace

TEST_CASE("A quarter turn to four turns, among them the delay that is set") {
    cut::CutSettings settings;
    const auto list = cut::delaysToTry(settings, rate_hz);
    CHECK(delays_s(list) == std::vector<double>{0.45, 0.9, 1.35, 1.8, 2.25, 2.7, 3.6, 4.5, 5.4, 7.2});
    CHECK(list.asSet == 3);
    CHECK(list.leftOut.empty());
    settings.preview_s = 1.7;
    const auto other = cut::delaysToTry(settings, rate_hz);
    CHECK(other.trials.size() == 11);
    CHECK(other.trials[other.asSet].preview_s == 1.7);
    const auto sorted = delays_s(other);
    CHECK(std::is_sorted(sorted.begin(), sorted.end()));
}

TEST_CASE("Delays are whole milliseconds, the one that is set stays as it is") {
    cut::CutSettings settings;
    settings.rpm = 45;
    settings.preview_s = 4.0 / 3;
    const auto list = cut::delaysToTry(settings, rate_hz);
    CHECK(list.trials.size() == 10);
    CHECK(list.trials[0].preview_s == 0.333);
    CHECK(list.trials[list.asSet].preview_s == 4.0 / 3);
    CHECK(list.trials.back().preview_s == 5.333);
}

TEST_CASE("A delay that is used up by the tolerances is left out with the reason, every other one is valid") {
    cut::CutSettings settings;
    settings.preview_tolerance_s = 0.47;
    const auto list = cut::delaysToTry(settings, rate_hz);
    REQUIRE(list.leftOut.size() == 1);
    CHECK(list.leftOut[0].delay_s == 0.45);
    CHECK_THAT(list.leftOut[0].reason, Contains("used up by the tolerances"));
    CHECK(list.trials.size() == 9);
    for (const auto& trial : list.trials)
        CHECK(cut::validate(trial, rate_hz).empty());
}

TEST_CASE("The tape path of a turn at 33 1/3, by hand") {
    // 15 in/s is 38.1 cm/s and 30 in/s is 76.2 cm/s, an inch being 2.54 cm; 1.8 s x 38.1 cm/s = 68.58 cm.
    CHECK(cut::tapePath_mm(1.8, cut::tapeSpeeds[0]) == Approx(685.8));
    CHECK(cut::tapePath_mm(1.8, cut::tapeSpeeds[1]) == Approx(1371.6));
    CHECK(cut::tapeSpeeds[0].speed_cm_s == Approx(15 * 2.54));
    CHECK(cut::tapeSpeeds[1].speed_cm_s == Approx(30 * 2.54));
    CHECK(cut::tapePath_mm(0, cut::tapeSpeeds[0]) == 0);
}
