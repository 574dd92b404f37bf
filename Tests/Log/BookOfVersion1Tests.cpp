// SPDX-License-Identifier: GPL-3.0-or-later
// A book as the first version of the log left it (Tests/Log/BookOfVersion1.sql, dumped by SQLite's own tool): the made-up
// cut's frames 0 to 19 and 25 to 39, an event, a note, a gap, a place and a rehearsal. Read as it is, changed only by who
// writes into it, and then in one step.

#include "Log/BookPages.h"
#include "Log/FrameColumns.h"
#include "Tests/Log/OldBooks.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

bool hasSwings(const cut::CutFrame& frame) {
    return !std::isnan(frame.outerSwing_um) || !std::isnan(frame.innerSwing_um) || !std::isnan(frame.lift_um);
}

/// Cut 1 as it was told to the first version, without the figures that did not exist then.
void requireCutOfVersion1(const log::LoggedCut& logged) {
    const auto told = madeUpFrames(40);
    std::vector<cut::CutFrame> kept(told.begin(), told.begin() + 20);
    kept.insert(kept.end(), told.begin() + 25, told.end());
    REQUIRE(logged.frames.size() == 35);
    CHECK((csvOf(logged.frames) == csvOf(kept)));
    CHECK(logged.frames[34].estimate.used_mm == Approx(kept[34].estimate.used_mm).margin(5e-5));
    CHECK(logged.frames[34].estimate.left_cm2 == Approx(kept[34].estimate.left_cm2).margin(5e-4));
    for (const auto& frame : logged.frames)
        CHECK_FALSE(hasSwings(frame));
    CHECK(logged.head.side == madeUpHead().side);
    CHECK(sameBits(logged.head.settings.disc_level_db, -1.0 / 3));
    CHECK(logged.head.program.value().path == "/tapes/side a.wav");
    REQUIRE(logged.gaps.size() == 1);
    CHECK(logged.gaps[0].firstFrame == 20);
    CHECK(logged.gaps[0].lastFrame == 24);
    REQUIRE(logged.events.size() == 1);
    CHECK(logged.events[0].what == "lower");
    REQUIRE(logged.notes.size() == 1);
    CHECK(logged.notes[0].text == "a crackle, second band");
    REQUIRE(logged.tail.has_value());
    CHECK(logged.tail->ending == "finished");
}

} // namespace

TEST_CASE("The first step still makes the book of version 1") {
    const TestFolder folder;
    const auto old = folder / "old.headland", made = folder / "made.headland";
    makeOldBook(old, 1);
    {
        log::Database database(made, log::Database::Access::write, 0);
        log::bringUpToDate(database, log::bookSteps().first(1));
    }
    INFO("Books have been written by this step; what changes is a step more.");
    const auto linesOf = [](const std::string& text) { // a dump has them in another order
        std::vector<std::string> lines(1);
        for (const auto c : text)
            c == '\n' ? lines.emplace_back() : lines.back() += c;
        std::sort(lines.begin(), lines.end());
        return lines;
    };
    CHECK((linesOf(schemaOf(made)) == linesOf(schemaOf(old))));
}

TEST_CASE("A book of version 1 is read as it is and not changed") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, 1);
    const auto before = contentOf(path);
    {
        log::BookReader reader(path);
        REQUIRE(reader.cuts().size() == 1);
        CHECK(reader.cuts()[0].last_s == Approx(madeUpFrame(39, madeUpHead().settings).time_s));
        requireCutOfVersion1(reader.cut(1));
        REQUIRE(reader.places(1).size() == 1);
        CHECK(reader.patch(reader.places(1)[0].place).turns.size() == 2);
        CHECK(reader.rehearsals().size() == 1);
        CHECK_NOTHROW(reader.check());
    }
    CHECK((contentOf(path) == before));
    CHECK(folder.count() == 1);
}

TEST_CASE("A book of version 1 that is written into becomes one of today and keeps every row") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, 1);
    const auto frames = framesOfVersion(path, 1), others = rowsOfVersion(path, 1);
    REQUIRE(frames.size() > 3000);
    { const log::BookPages pages(path); }
    CHECK((framesOfVersion(path, 1) == frames));
    CHECK((rowsOfVersion(path, 1) == others));
    CHECK(sqlite(path, "'PRAGMA user_version' 'PRAGMA integrity_check' 'PRAGMA foreign_key_check'")
          == std::to_string(log::bookVersion()) + "\nok\n");
    makeBook(path, 60);
    log::BookReader reader(path);
    requireCutOfVersion1(reader.cut(1));
    CHECK(faultOf(path, 2, 60).empty());
    const auto added = reader.cut(2).frames;
    REQUIRE(added.size() == 60);
    const auto told = madeUpFrames(60);
    CHECK(added[7].outerSwing_um == Approx(told[7].outerSwing_um).margin(5e-5));
    CHECK(added[7].innerSwing_um == Approx(told[7].innerSwing_um).margin(5e-5));
    CHECK(added[7].lift_um == Approx(told[7].lift_um).margin(5e-5));
}

TEST_CASE("A reader of a book of version 1 reads on when somebody brings it up to date") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, 1);
    log::BookReader reader(path);
    requireCutOfVersion1(reader.cut(1));
    makeBook(path, 30);
    requireCutOfVersion1(reader.cut(1));
    const auto added = reader.cut(2).frames;
    REQUIRE(added.size() == 30);
    CHECK(hasSwings(added[7]));
}

TEST_CASE("A damaged book of version 1 is refused before it is brought up to date, and left as it is") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, 1);
    const auto page =
        std::stoul(sqlite(path, quoted("SELECT rootpage FROM sqlite_schema WHERE name = 'setting'")));
    const auto size = std::stoul(sqlite(path, "'PRAGMA page_size'"));
    auto damaged = contentOf(path);
    damaged.replace((page - 1) * size, size, size, '\x77');
    put(path, damaged);
    CHECK_THROWS_WITH(log::BookPages(path),
                      Catch::Contains("is damaged") && Catch::Contains("left as it is"));
    CHECK((contentOf(path) == damaged));
}

TEST_CASE("A cut that is under way goes on when a later Headland adds a column") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    log::BookWriter writer(path);
    writer.begin(madeUpHead());
    tell(writer, 0, 20);
    REQUIRE(writer.flush(longEnough));
    sqlite(path, quoted("ALTER TABLE frame ADD COLUMN later_e4"));
    tell(writer, 20, 40);
    writer.end(finishedAfter(40));
    REQUIRE(writer.flush(longEnough));
    CHECK(writer.status().trouble.empty());
    CHECK(faultOf(path, 1, 40).empty());
}
