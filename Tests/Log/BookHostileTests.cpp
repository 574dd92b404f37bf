// SPDX-License-Identifier: GPL-3.0-or-later
// Rows that somebody has changed by hand: whatever stands in a column, a reader refuses it in a sentence or gives back what a
// cut can be, in bounded time and memory.

#include "Files/Errors.h"
#include "Log/BookPages.h"
#include "Log/FrameReading.h"
#include "Tests/Log/Books.h"
#include "Text/Times.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

/// A book with something in every table of a cut.
void fullBook(const std::string& path) {
    log::BookPages pages(path);
    auto head = madeUpHead();
    head.program = log::ProgramRecord{"/tapes/a.wav", {"a.wav", "WAV, 24 bit", 44100, 2, 441000, 10}};
    const auto cut = pages.beginCut(head, log::utcNow());
    for (std::int64_t i = 0; i < 20; ++i)
        if (i != 15)
            pages.frame(cut, i, madeUpFrame(i, head.settings));
    pages.gap(cut, {15, 15, 0.1, 0.2, "lost"});
    pages.event(cut, 0, {3, 1, "cue", "band", NAN});
    pages.note(cut, {1, "a crackle", log::utcNow()});
    pages.place(cut,
                {cut::Flag::steep, {1, 146, 0.001, 3, {{0, std::vector<cut::EdgePoint>(3, {-1, -51})}}}});
    pages.endCut(cut, {"finished", false, 20, 1, 0.5});
    pages.rehearsal(head, "disc_level_db", cut::CutSummary());
}

/// Reads all of it; what it is refused with, or nothing when what came out can be.
std::string refusalOf(const std::string& path) {
    try {
        log::BookReader reader(path);
        reader.rehearsals();
        reader.programs();
        const auto bounded = [](double time_s) {
            return std::isnan(time_s) || std::abs(time_s) <= text::programMost_s;
        };
        for (const auto& entry : reader.cuts()) {
            CHECK(bounded(entry.last_s));
            reader.summedCut(entry.cut);
            const auto cut = reader.cut(entry.cut);
            for (const auto& frame : cut.frames)
                CHECK((bounded(frame.time_s) && frame.turn >= 0));
            for (const auto& note : cut.notes)
                CHECK(bounded(note.time_s));
            for (const auto& event : cut.events)
                CHECK(bounded(event.time_s));
            for (const auto& gap : cut.gaps)
                CHECK((bounded(gap.from_s) && bounded(gap.to_s)));
            for (const auto& place : reader.places(entry.cut)) {
                CHECK(bounded(place.time_s));
                const auto patch = reader.patch(place.place);
                CHECK(patch.points <= 100'000);
            }
        }
        return {};
    } catch (const files::InputError& refusal) {
        return refusal.what();
    }
}

} // namespace

TEST_CASE("Whatever stands in a column, a reader refuses it or gives back what a cut can be") {
    const TestFolder folder;
    const auto whole = folder / "whole.headland", path = folder / "book.headland";
    fullBook(whole);
    REQUIRE(refusalOf(whole).empty());
    std::vector<std::pair<std::string, std::string>> columns;
    {
        log::Database book(whole, log::Database::Access::read, 0);
        for (auto rows = book.prepare("SELECT s.name, c.name FROM sqlite_schema s JOIN "
                                      "pragma_table_info(s.name) c WHERE s.type = 'table'");
             rows.step();)
            columns.emplace_back(rows.text(0), rows.text(1));
    }
    REQUIRE(columns.size() > 80);
    auto refused = 0, changed = 0;
    for (const auto& [table, column] : columns)
        for (const auto* value : {"9223372036854775807", "-9223372036854775807 - 1", "9e999", "-9e999",
                                  "1e300", "-1", "NULL", "'text'", "zeroblob(100000)"}) {
            std::filesystem::copy_file(whole, path, std::filesystem::copy_options::overwrite_existing);
            {
                log::Database book(path, log::Database::Access::write, 0);
                book.run("PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON; PRAGMA "
                         "synchronous = OFF");
                try {
                    book.run("UPDATE " + table + " SET " + column + " = " + value);
                    ++changed;
                } catch (const log::DatabaseError&) { // a constraint holds
                    try {
                        book.run("UPDATE OR IGNORE " + table + " SET " + column + " = " + value);
                    } catch (const log::DatabaseError&) {
                    }
                }
            }
            INFO(table << "." << column << " = " << value);
            const auto said = refusalOf(path);
            if (said.empty())
                continue;
            ++refused;
            CHECK_THAT(said, Contains(path) && Catch::EndsWith("."));
        }
    CHECK(changed > 400);
    CHECK(refused > 50);
}

TEST_CASE("More frames than a side can have are refused while they are counted") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    fullBook(path); // 19 of them
    log::Database book(path, log::Database::Access::read, 0);
    CHECK(log::readFrames(book, {}, 1, 19).frames.size() == 19);
    CHECK_THROWS_AS(log::readFrames(book, {}, 1, 18), log::DamagedRow);
}

TEST_CASE("A frame of a number that no cut comes to is refused") {
    for (const auto* number :
         {"9223372036854775807", "9223372036854775000", "1000000000001", "-1", "-9223372036854775807 - 1"}) {
        const TestFolder folder;
        const auto path = folder / "book.headland";
        fullBook(path);
        sqlite(path, quoted("DELETE FROM frame WHERE number > 0; UPDATE frame SET number = "
                            + std::string(number)));
        CHECK_THAT(refusalOf(path), Contains("has a frame of a number that no cut comes to"));
    }
}

TEST_CASE("A value that would fill the memory, a table that never ends and a book of millions of rows are "
          "refused") {
    struct Damage {
        const char* sql;
        const char* words;
    };
    for (const auto& [sql, words] :
         {Damage{"UPDATE job SET title = CAST(zeroblob(50000000) AS TEXT)", "is damaged"},
          Damage{"ALTER TABLE frame RENAME TO f; CREATE VIEW frame AS WITH RECURSIVE n(i) AS (SELECT 0 UNION "
                 "ALL SELECT i "
                 "+ 1 FROM n) SELECT 1 AS cut_id, i AS number FROM n",
                 "is damaged (a table of it is something else)"},
          Damage{"WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n LIMIT 2000000) INSERT INTO "
                 "note(cut_id, "
                 "time_s, written_utc, kind, text) SELECT 1, i, '', 'note', 'again' FROM n",
                 "holds more than any cut"}}) {
        const TestFolder folder;
        const auto path = folder / "book.headland";
        fullBook(path);
        sqlite(path, "-cmd 'PRAGMA synchronous = OFF' " + quoted(sql));
        CHECK_THAT(refusalOf(path), Contains(path) && Contains(words) && Catch::EndsWith("."));
    }
}
