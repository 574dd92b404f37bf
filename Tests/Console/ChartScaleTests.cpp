// SPDX-License-Identifier: GPL-3.0-or-later
// Scales and ticks: places in proportion, ticks that are round, inside the range and not too many.

#include "Console/ChartScale.h"

#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>

using namespace headland::console;
using headland::test::Random;

namespace {

/// Whether the number is 1, 2 or 5 times a power of ten.
bool isRoundStep(double step) {
    const auto lead = step / std::pow(10.0, std::floor(std::log10(step) + 1e-9));
    return std::abs(lead - 1) < 1e-6 || std::abs(lead - 2) < 1e-6 || std::abs(lead - 5) < 1e-6;
}

} // namespace

TEST_CASE("A scale maps in proportion and holds what is beyond at its ends") {
    const ChartScale scale{0, 200, 400, 100}; // upwards, as on a screen
    CHECK(scale(0) == 400);
    CHECK(scale(50) == 325);
    CHECK(scale(200) == 100);
    CHECK(scale(-1) == 400);
    CHECK(scale(1e9) == 100);
    CHECK((ChartScale{5, 5, 400, 100})(5) == 400);
}

TEST_CASE("Ticks are round, inside the range, and as many as fit") {
    Random random(4);
    for (int i = 0; i < 2000; ++i) {
        const auto least = random.between(-1000, 1000);
        const auto greatest = least + std::pow(10, random.between(-3, 4));
        const auto countMax = static_cast<int>(random.between(2, 12));
        const auto ticks = roundTicks(least, greatest, countMax);
        REQUIRE(ticks.size() <= static_cast<std::size_t>(countMax));
        REQUIRE((countMax < 3 || !ticks.empty()));
        for (std::size_t t = 0; t < ticks.size(); ++t) {
            REQUIRE(ticks[t] >= least - 1e-6 * (greatest - least));
            REQUIRE(ticks[t] <= greatest + 1e-6 * (greatest - least));
            if (t > 0)
                REQUIRE(isRoundStep(ticks[t] - ticks[t - 1]));
        }
    }
    CHECK(roundTicks(0, 424, 9) == std::vector<double>{0, 50, 100, 150, 200, 250, 300, 350, 400});
    CHECK(roundTicks(3, 3, 5) == std::vector<double>{3});
    CHECK(roundTicks(0, std::numeric_limits<double>::infinity(), 5) == std::vector<double>{0});
}

TEST_CASE("Time ticks read well as minutes and seconds") {
    CHECK(timeTicks(-2.25, 1204, 16).at(1) == 120);
    CHECK(timeTicks(-2.25, 3.5, 16) == std::vector<double>{-2, -1, 0, 1, 2, 3});
    CHECK(timeTicks(0, 240, 16).at(1) == 30);
    CHECK(timeTicks(0, 400000, 16).size() <= 16);
}

TEST_CASE("Ticks are written with the places they need") {
    CHECK(decimalsFor({0, 50, 100}) == 0);
    CHECK(decimalsFor({0, 0.5, 1}) == 1);
    CHECK(decimalsFor({0, 0.02, 0.04}) == 2);
    CHECK(decimalsFor({7}) == 0);
}
