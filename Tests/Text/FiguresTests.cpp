// SPDX-License-Identifier: GPL-3.0-or-later
// Figures as text: rounding at the edges, no locale.

#include "Text/Figures.h"

#include <catch2/catch.hpp>

#include <limits>
#include <string>

using namespace headland::text;

TEST_CASE("Numbers have the places asked for and no minus before zero") {
    CHECK(fixed(12.345, 1) == "12.3");
    CHECK(fixed(-0.04, 1) == "0.0");
    CHECK(fixed(-0.06, 1) == "-0.1");
    CHECK(fixed(1e300, 0).size() == 301);
    CHECK(fixed(std::numeric_limits<double>::quiet_NaN(), 2) == "-");
    CHECK(plain(100.0 / 3) == "33.3333");
    CHECK(plain(-2.5) == "-2.5");
    CHECK(plain(std::numeric_limits<double>::infinity()) == "-");
}

TEST_CASE("Lines per inch are 25400 over the pitch") {
    CHECK(linesPerInch(100) == "254");
    CHECK(linesPerInch(0) == "-");
}

TEST_CASE("A diameter that no disc has is not given as a number") {
    CHECK(diameterText(292.64) == "292.6 mm");
    CHECK(diameterText(-12) == "past the disc's middle");
}

TEST_CASE("A count agrees with its noun") {
    CHECK(counted(0, "passage") == "0 passages");
    CHECK(counted(1, "passage") == "1 passage");
    CHECK(counted(2, "passage") == "2 passages");
}
