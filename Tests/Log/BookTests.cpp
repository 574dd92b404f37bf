// SPDX-License-Identifier: GPL-3.0-or-later
// A book written and read again: every frame to the last place of the CSV, and everything else as it was told.

#include "Tests/Log/Books.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

TEST_CASE("A cut read from its book has the very rows of its CSV") {
    const TestFolder folder;
    const auto frames = madeUpFrames(3000);
    const auto head = madeUpHead();
    {
        log::BookWriter writer(folder / "book.headland");
        writer.begin(head);
        tell(writer, frames);
        writer.end({"finished", false, static_cast<std::int64_t>(frames.size()), 0, NAN});
        REQUIRE(writer.flush(10s));
        CHECK(writer.status().trouble.empty());
        CHECK(writer.status().framesWaiting == 0);
        CHECK(writer.status().cut == 1);
    }
    log::BookReader reader(folder / "book.headland");
    const auto read = reader.cut(1);
    REQUIRE(read.frames.size() == frames.size());
    CHECK((csvOf(read.frames) == csvOf(frames))); // not shown: half a megabyte
    CHECK(folder.count() == 1);                   // one file, nothing beside it
}
