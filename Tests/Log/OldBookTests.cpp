// SPDX-License-Identifier: GPL-3.0-or-later
// Books as earlier versions of the log left them (Tests/Log/BookOfVersion1.sql, 2 and 3, dumped by SQLite's own tool): the
// made-up cut's frames 0 to 19 and 25 to 39, an event, notes, a gap, a place and a rehearsal. Read as they are, changed only by
// who writes into them, and then in one step.

#include "Log/BookNotes.h"
#include "Log/BookPages.h"
#include "Log/FrameColumns.h"
#include "Tests/Log/OldBooks.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

/// Every version there is a book of.
int oldVersion() {
    return GENERATE(1, 2, 3);
}

bool hasSwings(const cut::CutFrame& frame) {
    return !std::isnan(frame.outerSwing_um) || !std::isnan(frame.innerSwing_um) || !std::isnan(frame.lift_um);
}

/// Version 1 had no mark, and no figures of the swings.
void requireWhatVersionsDiffer(const log::LoggedCut& logged, int version) {
    const auto told = madeUpFrames(40);
    if (version == 1) {
        for (const auto& frame : logged.frames)
            CHECK_FALSE(hasSwings(frame));
        REQUIRE(logged.notes.size() == 1);
        return;
    }
    if (version >= 3)
        CHECK(logged.frames[7].depthPeak_um == Approx(told[7].depthPeak_um).margin(5e-5));
    else
        CHECK(std::isnan(logged.frames[7].depthPeak_um));
    CHECK(logged.frames[7].outerSwing_um == Approx(told[7].outerSwing_um).margin(5e-5));
    CHECK(logged.frames[34].lift_um == Approx(told[39].lift_um).margin(5e-5));
    REQUIRE(logged.notes.size() == 2);
    CHECK(logged.notes[1].isMark());
    CHECK(logged.notes[1].time_s == -1.99);
    REQUIRE(logged.tail.has_value());
    CHECK(logged.tail->badSamples == 2);
}

/// Cut 1 as it was told to that version.
void requireOldCut(const log::LoggedCut& logged, int version) {
    const auto told = madeUpFrames(40);
    std::vector<cut::CutFrame> kept(told.begin(), told.begin() + 20);
    kept.insert(kept.end(), told.begin() + 25, told.end());
    REQUIRE(logged.frames.size() == 35);
    CHECK((csvOf(logged.frames) == csvOf(kept)));
    CHECK(logged.frames[34].estimate.used_mm == Approx(kept[34].estimate.used_mm).margin(5e-5));
    CHECK(logged.frames[34].estimate.left_cm2 == Approx(kept[34].estimate.left_cm2).margin(5e-4));
    CHECK(logged.head.side == madeUpHead().side);
    CHECK(sameBits(logged.head.settings.disc_level_db, -1.0 / 3));
    CHECK(logged.head.program.value().path == "/tapes/side a.wav");
    REQUIRE(logged.gaps.size() == 1);
    CHECK(logged.gaps[0].firstFrame == 20);
    CHECK(logged.gaps[0].lastFrame == 24);
    REQUIRE(logged.events.size() == 1);
    CHECK(logged.events[0].what == "lower");
    REQUIRE_FALSE(logged.notes.empty());
    CHECK(logged.notes[0].note == 1);
    CHECK(logged.notes[0].text == "a crackle, second band");
    for (const auto& note : logged.notes) {
        CHECK_FALSE(note.isDeleted());
        CHECK(note.earlier.empty());
    }
    REQUIRE(logged.tail.has_value());
    CHECK(logged.tail->ending == "finished");
    requireWhatVersionsDiffer(logged, version);
}

/// A dump has them in another order.
std::vector<std::string> linesOf(const std::string& text) {
    std::vector<std::string> lines(1);
    for (const auto c : text)
        c == '\n' ? lines.emplace_back() : lines.back() += c;
    std::sort(lines.begin(), lines.end());
    return lines;
}

} // namespace

TEST_CASE("The first steps still make the books of their versions") {
    const auto version = oldVersion();
    const TestFolder folder;
    const auto old = folder / "old.headland", made = folder / "made.headland";
    makeOldBook(old, version);
    {
        log::Database database(made, log::Database::Access::write, 0);
        log::bringUpToDate(database, log::bookSteps().first(static_cast<std::size_t>(version)));
    }
    INFO("Books have been written by these steps; what changes is a step more.");
    CHECK((linesOf(schemaOf(made)) == linesOf(schemaOf(old))));
}

TEST_CASE("A book of an older version is read as it is and not changed") {
    const auto version = oldVersion();
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, version);
    const auto before = contentOf(path);
    {
        log::BookReader reader(path);
        const auto cuts = reader.cuts();
        REQUIRE(cuts.size() == 1);
        CHECK(cuts[0].last_s == Approx(madeUpFrame(39, madeUpHead().settings).time_s));
        CHECK(cuts[0].program == "/tapes/side a.wav");
        CHECK(sameBits(cuts[0].discLevel_db, -1.0 / 3));
        CHECK(cuts[0].scrap.empty());
        requireOldCut(reader.cut(1), version);
        REQUIRE(reader.places(1).size() == 1);
        CHECK(reader.patch(reader.places(1)[0].place).turns.size() == 2);
        CHECK(reader.rehearsals().size() == 1);
        CHECK_NOTHROW(reader.check());
    }
    CHECK((contentOf(path) == before));
    CHECK(folder.count() == 1);
}

TEST_CASE("A book of an older version that is written into becomes one of today and keeps every row") {
    const auto version = oldVersion();
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, version);
    const auto frames = framesOfVersion(path, version), others = rowsOfVersion(path, version);
    REQUIRE(frames.size() > 3000);
    { const log::BookPages pages(path); }
    CHECK((framesOfVersion(path, version) == frames));
    CHECK((rowsOfVersion(path, version) == others));
    CHECK(sqlite(path, "'PRAGMA user_version' 'PRAGMA integrity_check' 'PRAGMA foreign_key_check'")
          == std::to_string(log::bookVersion()) + "\nok\n");
    requireOldCut(log::BookReader(path).cut(1), version);
    log::editNote(path, 1, 1, "a crackle, third band");
    const auto note = log::BookReader(path).notes(1)[0];
    CHECK(note.text == "a crackle, third band");
    REQUIRE(note.earlier.size() == 1);
    CHECK(note.earlier[0].text == "a crackle, second band");
    makeBook(path, 60);
    CHECK(faultOf(path, 2, 60).empty());
    const auto added = log::BookReader(path).cut(2).frames;
    REQUIRE(added.size() == 60);
    const auto told = madeUpFrames(60);
    CHECK(added[7].outerSwing_um == Approx(told[7].outerSwing_um).margin(5e-5));
    CHECK(added[7].innerSwing_um == Approx(told[7].innerSwing_um).margin(5e-5));
    CHECK(added[7].lift_um == Approx(told[7].lift_um).margin(5e-5));
}

TEST_CASE("A reader of a book of an older version reads on when somebody brings it up to date") {
    const auto version = oldVersion();
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, version);
    log::BookReader reader(path);
    requireOldCut(reader.cut(1), version);
    makeBook(path, 30);
    requireOldCut(reader.cut(1), version);
    const auto added = reader.cut(2).frames;
    REQUIRE(added.size() == 30);
    CHECK(hasSwings(added[7]));
    log::deleteNote(path, 1, 1);
    const auto notes = reader.notes(1);
    REQUIRE_FALSE(notes.empty());
    CHECK(notes[0].isDeleted());
    CHECK(reader.cuts().size() == 2);
}

TEST_CASE(
    "A damaged book of an older version is refused before it is brought up to date, and left as it is") {
    const auto version = oldVersion();
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, version);
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
