// SPDX-License-Identifier: GPL-3.0-or-later
// Outputs that would overwrite an input or each other, by whatever way the paths are written, and picture formats.

#include "Console/Outputs.h"

#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

using namespace headland::console;
using namespace headland::test;
using Catch::Matchers::Contains;

TEST_CASE("Each clash is one sentence that names both") {
    const TestFolder folder;
    put(folder / "side.wav", "x");
    headland::files::KeptFiles kept;
    kept.add(folder / "side.wav", "the program");
    const auto problems = clashes(
        kept, {{folder / "a", "--csv"}, {folder / "a", "--json"}, {folder / "side.wav", "--picture"}});
    REQUIRE(problems.size() == 2);
    CHECK_THAT(problems[0], Contains("--json") && Contains("same file as --csv"));
    CHECK_THAT(problems[1], Contains("--picture") && Contains("same file as the program"));
    CHECK(clashes(kept, {{folder / "a", "--csv"}, {folder / "b", "--json"}}).empty());
}

TEST_CASE("A picture's format is its extension") {
    CHECK(pictureFormat("a/b.svg") == PictureFormat::svg);
    CHECK(pictureFormat("a/b.SVG") == PictureFormat::svg);
    CHECK(pictureFormat("b.Png") == PictureFormat::png);
    CHECK(pictureFormat("b.jpg") == PictureFormat::unknown);
    CHECK(pictureFormat("svg") == PictureFormat::unknown);
    CHECK(pictureFormat("a.svg/b") == PictureFormat::unknown);
}
