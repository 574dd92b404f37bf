// SPDX-License-Identifier: GPL-3.0-or-later
// A table's columns line up by characters, not bytes, with the last to the left and no spaces at the ends of lines.

#include "Console/TextTable.h"

#include <catch2/catch.hpp>

using headland::console::tableText;

TEST_CASE("Figures line up to the right, the last column to the left") {
    CHECK(tableText({{"delay", "land", "can it be cut?"}, {"s", "µm", ""}, {"0.45", "-126.8", "no"}})
          == "delay    land  can it be cut?\n"
             "    s      µm\n"
             " 0.45  -126.8  no\n");
}

TEST_CASE("A table without lines is no text, a line may be shorter than others") {
    CHECK(tableText({}).empty());
    CHECK(tableText({{"a", "b", "c"}, {"1"}, {}}) == "a  b  c\n1\n\n");
}
