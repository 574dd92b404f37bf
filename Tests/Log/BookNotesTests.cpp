// SPDX-License-Identifier: GPL-3.0-or-later
// Notes written afterwards, written anew and deleted: the book keeps what they were, and what is refused changes nothing.
// And what a book's list says of its cuts.

#include "Cut/Scrap.h"
#include "Cut/Spoils.h"
#include "Log/BookNotes.h"
#include "Log/BookPages.h"
#include "Log/CutRecorder.h"
#include "Tests/Log/Books.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;
using Catch::Contains;

namespace {

/// A book with one cut, a note (1) at 3 s and a mark (2) at 2 s.
std::string bookWithNotes(const TestFolder& folder) {
    const auto path = folder / "book.headland";
    makeBook(path, 30);
    log::addNote(path, 1, {3, "a crackle", "2031-03-14T09:26:53.589Z"});
    log::addNote(path, 1, {2, "", "2031-03-14T09:26:54.000Z"});
    return path;
}

/// The frames of a side in the program, with the flags of one of them; the last one lies at a radius.
std::vector<cut::CutFrame> programFrames(std::uint16_t flags, double lastRadius_mm) {
    auto frames = madeUpFrames(40);
    for (auto& frame : frames) {
        frame.state = cut::State::program;
        frame.time_s += 3;
        frame.flags = 0;
        frame.landMin_um = 12;
    }
    frames[20].flags = flags;
    frames[20].landMin_um = -7.5;
    frames.back().radius_mm = lastRadius_mm;
    return frames;
}

} // namespace

TEST_CASE("A note that is written anew keeps what it said, in order, and a mark becomes a note") {
    const TestFolder folder;
    const auto path = bookWithNotes(folder);
    log::editNote(path, 1, 1, "a crackle, left");
    log::editNote(path, 1, 1, "a crackle, both sides");
    log::editNote(path, 1, 2, "here it begins");
    const auto notes = log::BookReader(path).notes(1);
    REQUIRE(notes.size() == 2);
    CHECK(notes[0].note == 2); // in order of time
    CHECK(notes[0].text == "here it begins");
    REQUIRE(notes[0].earlier.size() == 1);
    CHECK(notes[0].earlier[0].text.empty());
    CHECK(notes[1].time_s == 3);
    CHECK(notes[1].text == "a crackle, both sides");
    REQUIRE(notes[1].earlier.size() == 2);
    CHECK(notes[1].earlier[0].text == "a crackle");
    CHECK(notes[1].earlier[0].written_utc == "2031-03-14T09:26:53.589Z");
    CHECK(notes[1].earlier[1].text == "a crackle, left");
    CHECK(sqlite(path, quoted("SELECT count(*) FROM note WHERE kind = 'note'")) == "2\n");
    CHECK(log::BookReader(path).cut(1).notes.size() == 2);
}

TEST_CASE("A note that is deleted stays in the book with its words, and is not counted") {
    const TestFolder folder;
    const auto path = bookWithNotes(folder);
    log::editNote(path, 1, 1, "a crackle, left");
    log::deleteNote(path, 1, 1);
    const auto notes = log::BookReader(path).notes(1);
    REQUIRE(notes.size() == 2);
    CHECK_FALSE(notes[0].isDeleted());
    CHECK(notes[1].isDeleted());
    CHECK(notes[1].text == "a crackle, left");
    CHECK(notes[1].earlier.size() == 1);
    CHECK(sqlite(path, quoted("SELECT notes FROM cut_list")) == "1\n");
}

TEST_CASE("What is no note of the cut is refused in a sentence, and nothing is changed") {
    const TestFolder folder;
    const auto path = bookWithNotes(folder);
    makeBook(path, 30); // cut 2
    log::deleteNote(path, 1, 2);
    const auto before = sqlite(path, ".dump");
    CHECK_THROWS_WITH(log::editNote(path, 1, 7, "x"), Contains("has no note 7 on its cut 1"));
    CHECK_THROWS_WITH(log::editNote(path, 2, 1, "x"), Contains("has no note 1 on its cut 2"));
    CHECK_THROWS_WITH(log::deleteNote(path, 1, 2), Contains("Note 2 of cut 1 has been deleted"));
    CHECK_THROWS_WITH(log::editNote(path, 1, 2, "x"), Contains("has been deleted"));
    CHECK_THROWS_WITH(log::addNote(path, 9, {1, "x", ""}), Contains("has no cut 9"));
    CHECK_THROWS_WITH(log::addNote(folder / "none.headland", 1, {1, "x", ""}), Contains("There is no book"));
    CHECK(sqlite(path, ".dump") == before);
    CHECK(folder.count() == 1);
}

TEST_CASE("The list says of each cut what became of it, where it ended, its level and its program") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    auto head = madeUpHead();
    const auto limit_mm = head.settings.end_radius_mm;
    const auto cutInto = [&](const std::vector<cut::CutFrame>& frames) {
        log::BookWriter writer(path);
        log::CutRecorder recorder(writer, head);
        for (const auto& frame : frames)
            recorder.frame(frame);
        recorder.end(finishedAfter(static_cast<std::int64_t>(frames.size())));
        REQUIRE(writer.flush(longEnough));
    };
    cutInto(programFrames(0, 100));
    cutInto(programFrames(static_cast<std::uint16_t>(cut::Flag::overcut), 100));
    cutInto(programFrames(0, limit_mm - 0.5));
    const auto check = [&](const std::array<const char*, 3>& scrap) {
        const auto cuts = log::BookReader(path).cuts();
        REQUIRE(cuts.size() == 3);
        for (std::size_t i = 0; i < 3; ++i) {
            CHECK(cuts[i].discLevel_db == head.settings.disc_level_db);
            CHECK(cuts[i].program.empty());
            if (std::string(scrap[i]).empty())
                CHECK(cuts[i].scrap.empty());
            else
                CHECK_THAT(cuts[i].scrap, Contains(scrap[i]));
        }
        CHECK(cuts[0].endDiameter_mm == Approx(200));
        CHECK(cuts[2].endDiameter_mm == Approx(2 * limit_mm - 1));
    };
    check({"", "it overcuts, by 7.5 µm at ", "it does not fit, by "});
    sqlite(path, quoted("UPDATE cut SET scrap = NULL, end_diameter_mm = NULL")); // as in a book of version 2
    check({"", "it overcuts", "it does not fit"});
}

TEST_CASE("Every flag that spoils has its words") {
    for (int bit = 0; bit < cut::flagCount; ++bit) {
        const auto flag = cut::flagAt(bit);
        INFO(cut::name(flag));
        CHECK(cut::spoilingText(flag).empty() == !cut::spoils(flag));
    }
}
