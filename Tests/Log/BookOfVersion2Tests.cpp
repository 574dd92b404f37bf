// SPDX-License-Identifier: GPL-3.0-or-later
// A book as version 2 of the log left it (Tests/Log/BookOfVersion2.sql, dumped by SQLite's own tool): read as it is, changed
// only by who writes into it, and then in one step.

#include "Log/BookNotes.h"
#include "Log/BookPages.h"
#include "Tests/Log/OldBooks.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

void requireCutOfVersion2(const log::LoggedCut& logged) {
    const auto told = madeUpFrames(40);
    std::vector<cut::CutFrame> kept(told.begin(), told.begin() + 20);
    kept.insert(kept.end(), told.begin() + 25, told.end());
    REQUIRE(logged.frames.size() == 35);
    CHECK((csvOf(logged.frames) == csvOf(kept)));
    CHECK(logged.frames[7].outerSwing_um == Approx(told[7].outerSwing_um).margin(5e-5));
    CHECK(logged.frames[34].lift_um == Approx(told[39].lift_um).margin(5e-5));
    CHECK(sameBits(logged.head.settings.disc_level_db, -1.0 / 3));
    REQUIRE(logged.gaps.size() == 1);
    REQUIRE(logged.events.size() == 1);
    CHECK(logged.events[0].what == "lower");
    REQUIRE(logged.notes.size() == 2);
    CHECK(logged.notes[0].text == "a crackle, second band");
    CHECK(logged.notes[0].note == 1);
    CHECK(logged.notes[1].isMark());
    CHECK(logged.notes[1].time_s == -1.99);
    for (const auto& note : logged.notes) {
        CHECK_FALSE(note.isDeleted());
        CHECK(note.earlier.empty());
    }
    REQUIRE(logged.tail.has_value());
    CHECK(logged.tail->ending == "finished");
    CHECK(logged.tail->badSamples == 2);
}

} // namespace

TEST_CASE("The first two steps still make the book of version 2") {
    const TestFolder folder;
    const auto old = folder / "old.headland", made = folder / "made.headland";
    makeOldBook(old, 2);
    {
        log::Database database(made, log::Database::Access::write, 0);
        log::bringUpToDate(database, log::bookSteps().first(2));
    }
    const auto linesOf = [](const std::string& text) { // a dump has them in another order
        std::vector<std::string> lines(1);
        for (const auto c : text)
            c == '\n' ? lines.emplace_back() : lines.back() += c;
        std::sort(lines.begin(), lines.end());
        return lines;
    };
    CHECK((linesOf(schemaOf(made)) == linesOf(schemaOf(old))));
}

TEST_CASE("A book of version 2 is read as it is and not changed") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, 2);
    const auto before = contentOf(path);
    {
        log::BookReader reader(path);
        const auto cuts = reader.cuts();
        REQUIRE(cuts.size() == 1);
        CHECK(cuts[0].program == "/tapes/side a.wav");
        CHECK(sameBits(cuts[0].discLevel_db, -1.0 / 3));
        CHECK(cuts[0].scrap.empty());
        requireCutOfVersion2(reader.cut(1));
        CHECK(reader.notes(1).size() == 2);
        REQUIRE(reader.places(1).size() == 1);
        CHECK(reader.patch(reader.places(1)[0].place).turns.size() == 2);
        CHECK(reader.rehearsals().size() == 1);
        CHECK_NOTHROW(reader.check());
    }
    CHECK((contentOf(path) == before));
    CHECK(folder.count() == 1);
}

TEST_CASE("A book of version 2 in which a note is written anew becomes one of today and keeps every row") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, 2);
    const auto frames = framesOfVersion(path, 2), others = rowsOfVersion(path, 2);
    REQUIRE(frames.size() > 3000);
    { const log::BookPages pages(path); }
    CHECK((framesOfVersion(path, 2) == frames));
    CHECK((rowsOfVersion(path, 2) == others));
    CHECK(sqlite(path, "'PRAGMA user_version' 'PRAGMA integrity_check' 'PRAGMA foreign_key_check'")
          == std::to_string(log::bookVersion()) + "\nok\n");
    requireCutOfVersion2(log::BookReader(path).cut(1));
    log::editNote(path, 1, 1, "a crackle, third band");
    const auto note = log::BookReader(path).notes(1)[0];
    CHECK(note.text == "a crackle, third band");
    REQUIRE(note.earlier.size() == 1);
    CHECK(note.earlier[0].text == "a crackle, second band");
    CHECK(note.earlier[0].written_utc == "2026-11-27T20:11:06.000Z");
    makeBook(path, 60);
    CHECK(faultOf(path, 2, 60).empty());
}

TEST_CASE("A reader of a book of version 2 reads on when somebody brings it up to date") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeOldBook(path, 2);
    log::BookReader reader(path);
    requireCutOfVersion2(reader.cut(1));
    log::deleteNote(path, 1, 2);
    const auto notes = reader.notes(1);
    REQUIRE(notes.size() == 2);
    CHECK(notes[1].isDeleted());
    CHECK(reader.cuts().size() == 1);
}
