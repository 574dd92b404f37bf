// SPDX-License-Identifier: GPL-3.0-or-later
// Times as text, both ways.

#include "Text/Times.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <string>

using namespace headland::text;

TEST_CASE("Times carry over from 59 seconds to the minute") {
    CHECK(minutesSeconds(59.4) == "0:59");
    CHECK(minutesSeconds(59.6) == "1:00");
    CHECK(minutesSeconds(1267) == "21:07");
    CHECK(minutesTenths(192.36) == "3:12.4");
    CHECK(minutesTenths(59.96) == "1:00.0");
    CHECK(sideLength(1.25) == "0:01.3");
    CHECK(sideLength(75.4) == "1:15");
}

TEST_CASE("A time before the program has one minus, in front") {
    CHECK(minutesSeconds(-2.25) == "-0:02");
    CHECK(minutesTenths(-1.5) == "-0:01.5");
    CHECK(minutesTenths(-61.5) == "-1:01.5");
    CHECK(minutesTenths(-0.04) == "0:00.0");
}

TEST_CASE("A time that no side has is not printed as a figure") {
    CHECK(minutesTenths(std::numeric_limits<double>::quiet_NaN()) == "-");
    CHECK(minutesSeconds(-std::numeric_limits<double>::infinity()) == "-");
    CHECK(minutesTenths(1e30) == "-");
    CHECK(minutesSeconds(-1e18) == "-");
    CHECK(minutesSeconds(36e6) == "600000:00");
}

TEST_CASE("A time is read as it is written, with a point or a comma") {
    CHECK(timeFromText("201.5") == 201.5);
    CHECK(timeFromText("201,5") == 201.5);
    CHECK(timeFromText("3:21.5") == 201.5);
    CHECK(timeFromText("1:02,5") == 62.5);
    CHECK(timeFromText("-0:01.5") == -1.5);
    CHECK(timeFromText("-0:01,5") == -1.5);
    for (const auto time_s : {-61.5, -1.5, 0.0, 59.9, 3599.9})
        CHECK(timeFromText(minutesTenths(time_s)) == time_s);
}

TEST_CASE("What is no time is not guessed at") {
    for (const auto* wrong : {"",        "-",      ":",      "1:",     ":5",      "1:60",    "1:-5",
                              "--5",     "-1:-0",  "1,5:00", "1.5:00", "1:02:03", "1,234.5", "1,2,3",
                              "1:2,3,4", "12,",    "nan",    "inf",    "1e999",   "5 s",     "+5",
                              "86401",   "-86401", "1441:00"}) // beyond a day is no place in a program
        CHECK_FALSE(timeFromText(wrong).has_value());
}
