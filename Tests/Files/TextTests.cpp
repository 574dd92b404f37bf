// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers and times as text: rounding at the edges, no locale, and text made safe for XML, JSON and terminals.

#include "Files/Text.h"

#include <catch2/catch.hpp>

#include <clocale>
#include <limits>
#include <string>

using namespace headland::files;

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

TEST_CASE("Times carry over from 59 seconds to the minute") {
    CHECK(minutesSeconds(59.4) == "0:59");
    CHECK(minutesSeconds(59.6) == "1:00");
    CHECK(minutesSeconds(1267) == "21:07");
    CHECK(minutesSeconds(-2.25) == "-0:02");
    CHECK(minutesTenths(192.36) == "3:12.4");
    CHECK(minutesTenths(59.96) == "1:00.0");
    CHECK(minutesTenths(-0.04) == "0:00.0");
    CHECK(sideLength(1.25) == "0:01.3");
    CHECK(sideLength(75.4) == "1:15");
}

TEST_CASE("Lines per inch are 25400 over the pitch") {
    CHECK(linesPerInch(100) == "254");
    CHECK(linesPerInch(0) == "-");
}

TEST_CASE("A diameter that no disc has is not given as a number") {
    CHECK(diameterText(292.64) == "292.6 mm");
    CHECK(diameterText(-12) == "past the disc's middle");
}

TEST_CASE("Text that is no UTF-8 or steers a terminal is made harmless") {
    const std::string mark = "\xef\xbf\xbd";
    CHECK(printable("Abend für Streicher, Seite 2 \xe2\x80\x93 ½")
          == "Abend für Streicher, Seite 2 \xe2\x80\x93 ½");
    CHECK(printable("a\033[2Jb") == "a" + mark + "[2Jb");
    CHECK(printable("line\nline") == "line" + mark + "line");
    CHECK(printable("\xff\xc3") == mark + mark);
    CHECK(printable("\xc0\xaf") == mark + mark);                // '/' in two bytes
    CHECK(printable("\xed\xa0\x80") == mark + mark + mark);     // half of a surrogate pair
    CHECK(printable("\xf0\x9f\x8e\xbb") == "\xf0\x9f\x8e\xbb"); // a character of four bytes stays
}

TEST_CASE("A count agrees with its noun") {
    CHECK(counted(0, "passage") == "0 passages");
    CHECK(counted(1, "passage") == "1 passage");
    CHECK(counted(2, "passage") == "2 passages");
}
