// SPDX-License-Identifier: GPL-3.0-or-later
// What is no book, or no longer a whole one, or one of another version: refused in one sentence by reader and writer,
// and left as it is to the byte. Never a crash, never a wait without end.

#include "Files/Errors.h"
#include "Log/BookPages.h"
#include "Log/BookSchema.h"
#include "Tests/Files/Refusal.h"
#include "Tests/Log/Books.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

/// A book with something in every table.
std::string fullBook(const std::string& path) {
    {
        log::BookWriter writer(path);
        auto head = madeUpHead();
        head.program = log::ProgramRecord{"/tapes/a.wav", {"a.wav", "WAV, 24 bit", 44100, 2, 441000, 10}};
        writer.begin(head);
        tell(writer, 0, 600);
        writer.event({3, 1, "cue", "band", NAN});
        writer.note({1, "a crackle", log::utcNow()});
        cut::GroovePatch patch{1, 146, 0.001, 101, {{0, std::vector<cut::EdgePoint>(101, {-1, -51})}}};
        for (int place = 0; place < 20; ++place)
            writer.place(place, {cut::Flag::steep, patch});
        writer.end(finishedAfter(600));
        if (!writer.flush(longEnough))
            throw std::runtime_error("the book for the test was not written");
    }
    log::BookPages(path).rehearsal(
        [] {
            auto head = madeUpHead();
            head.program = log::ProgramRecord{"/tapes/a.wav", {"a.wav", "WAV, 24 bit", 44100, 2, 441000, 10}};
            return head;
        }(),
        "disc level", cut::CutSummary());
    return contentOf(path);
}

/// Reads all there is; what it is refused with.
std::string readingRefusal(const std::string& path) {
    return sentenceOf<files::InputError>([&] {
        log::BookReader reader(path);
        reader.rehearsals();
        for (const auto& entry : reader.cuts()) {
            reader.summedCut(entry.cut);
            csvOf(reader.cut(entry.cut).frames);
            for (const auto& place : reader.places(entry.cut))
                reader.patch(place.place);
        }
    });
}

/// Writes a cut; what it is refused with.
std::string writingRefusal(const std::string& path) {
    log::BookWriter writer(path, {.period = 10ms});
    writer.begin(headOf("Harbour Lights", "A"));
    tell(writer, 0, 20);
    std::string trouble;
    const auto isSettled = comesTrue([&] {
        trouble = writer.status().trouble;
        return !trouble.empty() || writer.status().cut != 0;
    });
    return isSettled ? trouble : "neither written nor refused";
}

bool isSentence(const std::string& said, const std::string& path) {
    const auto main = said.substr(0, said.find(" The cut goes on: "));
    return main.find(path) != std::string::npos && main.ends_with('.') && main.find('\n') == std::string::npos
           && main.find(". ") == std::string::npos && (main.find("; ") != std::string::npos);
}

/// Refused by both with these words, and not touched, nor anything put beside it.
void requireRefused(const TestFolder& folder, const std::string& name, const std::string& words) {
    const auto path = folder / name;
    const auto before = contentOf(path);
    const auto count = folder.count();
    for (const auto& said : {readingRefusal(path), writingRefusal(path)}) {
        INFO(said);
        CHECK(isSentence(said, path));
        CHECK_THAT(said, Contains(words));
    }
    CHECK((contentOf(path) == before));
    CHECK(folder.count() == count);
}

/// Whatever it is, it is read, written into or refused in a sentence, and what is refused stays as it is.
void requireNoHarm(const std::string& path, const std::string& content, int& refused) {
    put(path, content);
    if (const auto said = readingRefusal(path); !said.empty()) {
        INFO(said);
        CHECK(isSentence(said, path));
    }
    CHECK((contentOf(path) == content));
    if (const auto said = writingRefusal(path); !said.empty()) {
        INFO(said);
        CHECK(isSentence(said, path));
        CHECK((contentOf(path) == content));
        ++refused;
    }
    for (const auto* part : {"", "-wal", "-shm", "-journal"})
        std::filesystem::remove(path + part);
}

constexpr std::size_t page_bytes = 4096;

} // namespace

TEST_CASE("A book with bytes flipped anywhere is refused and left as it is, or does no harm") {
    const TestFolder folder;
    const auto book = fullBook(folder / "whole.headland");
    Random random(20260315);
    int refused = 0;
    for (int variant = 0; variant < 48; ++variant) {
        auto damaged = book;
        const auto from = variant % 4 == 0   ? 0.0                              // the header
                          : variant % 4 == 1 ? 100.0                            // the schema
                                             : static_cast<double>(page_bytes); // anything else
        const auto to = variant % 4 == 0   ? 100.0
                        : variant % 4 == 1 ? static_cast<double>(page_bytes)
                                           : static_cast<double>(book.size());
        for (int flip = 0; flip < 1 + variant % 5; ++flip)
            damaged[static_cast<std::size_t>(random.between(from, to))] ^=
                static_cast<char>(1 << static_cast<int>(random.between(0, 8)));
        INFO("variant " << variant);
        requireNoHarm(folder / "damaged.headland", damaged, refused);
    }
    for (int variant = 0; variant < 12; ++variant) { // whole pages of noise
        auto damaged = book;
        const auto page =
            static_cast<std::size_t>(random.between(1, static_cast<double>(book.size() / page_bytes)));
        for (std::size_t i = 0; i < page_bytes; ++i)
            damaged[page * page_bytes + i] = static_cast<char>(random.between(0, 256));
        INFO("noise in page " << page);
        requireNoHarm(folder / "damaged.headland", damaged, refused);
    }
    CHECK(refused > 15);
}

TEST_CASE("A book that was cut off is refused and left as it is") {
    const TestFolder folder;
    const auto book = fullBook(folder / "whole.headland");
    int refused = 0;
    for (const auto length : {std::size_t{50}, std::size_t{100}, std::size_t{1000}, page_bytes,
                              page_bytes + 1, book.size() / 2, book.size() - page_bytes})
        requireNoHarm(folder / "short.headland", book.substr(0, length), refused);
    CHECK(refused == 7);
    for (const auto length :
         {std::size_t{1}, book.size() - 1}) // SQLite takes that for empty, and cannot see this
        requireNoHarm(folder / "short.headland", book.substr(0, length), refused);
}

TEST_CASE("What is no book is refused and left as it is") {
    const TestFolder folder;
    put(folder / "notes.txt", "Lantern Sessions, side A: too loud?\n" + std::string(3000, '-'));
    requireRefused(folder, "notes.txt", "no book of Headland's");

    sqlite(folder / "other.db", "'CREATE TABLE t(x); INSERT INTO t VALUES(1)'");
    requireRefused(folder, "other.db", "database of another program; name another file");
    sqlite(folder / "marked.db", "'PRAGMA application_id = 1234; CREATE TABLE t(x)'");
    requireRefused(folder, "marked.db", "database of another program");
    sqlite(folder / "numbered.db", "'PRAGMA user_version = 7; CREATE TABLE t(x); DROP TABLE t'");
    requireRefused(folder, "numbered.db", "database of another program");
    sqlite(folder / "logged.db", "'PRAGMA journal_mode = WAL; CREATE TABLE t(x)'");
    const auto before = contentOf(folder / "logged.db");
    CHECK_THAT(writingRefusal(folder / "logged.db"), Contains("database of another program"));
    CHECK((contentOf(folder / "logged.db") == before));
    CHECK(folder.count() == 5);
}

TEST_CASE(
    "Another program's database is left as it is with a log beside it that it has not brought over yet") {
    const TestFolder folder;
    const auto other = folder / "other.db";
    sqlite(folder / "made.db", "'PRAGMA journal_mode = WAL; CREATE TABLE t(x)' '.shell cp "
                                   + (folder / "made.db") + " " + other + "; cp " + (folder / "made.db-wal")
                                   + " " + other + "-wal'");
    const auto before = contentOf(other);
    const auto log = contentOf(other + "-wal");
    REQUIRE(log.size() > page_bytes);
    CHECK_THAT(readingRefusal(other), Contains("database of another program"));
    CHECK_THAT(writingRefusal(other), Contains("database of another program"));
    CHECK((contentOf(other) == before));
    CHECK((contentOf(other + "-wal") == log));
}

TEST_CASE("A folder is no book") {
    const TestFolder folder;
    CHECK_THAT(readingRefusal(folder.path().string()), Contains("is a folder; name a book in it."));
    CHECK_THAT(writingRefusal(folder.path().string()), Contains("is a folder; name a book in it."));
    CHECK_THAT(readingRefusal(folder / "none.headland"),
               Contains("There is no book " + (folder / "none.headland") + "; "));
}

TEST_CASE("An empty file is an empty book to a reader, and becomes one to the writer") {
    const TestFolder folder;
    const auto path = folder / "empty.headland";
    put(path, "");
    const auto said = readingRefusal(path);
    CHECK(isSentence(said, path));
    CHECK_THAT(said, Contains("it is empty"));
    CHECK(writingRefusal(path).empty());
    CHECK(log::BookReader(path).cuts().size() == 1);
}

TEST_CASE("A book of a version that is newer, or that there never was, is refused and left as it is") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    fullBook(path);
    for (const std::string version : {"2147483647", "0", "-1"}) {
        sqlite(path, "'PRAGMA user_version = " + version + "'");
        requireRefused(folder, "book.headland",
                       version.size() > 2 ? "written by a newer Headland (version 2147483647"
                                          : "which there never was");
    }
    sqlite(path, "'PRAGMA user_version = " + std::to_string(log::bookVersion()) + "'");
    CHECK(readingRefusal(path).empty());
}

TEST_CASE("A book that says what cannot be is refused by its reader") {
    struct Damage {
        const char* sql;
        const char* words;
    };
    for (const auto& [sql, words] :
         {Damage{"DELETE FROM frame WHERE number = 40", "frames missing of which it says nothing"},
          Damage{"INSERT INTO gap VALUES(1, 10, 20, 0, 0, 'overlap')",
                 "frames missing of which it says nothing"},
          Damage{"UPDATE frame SET state = 77 WHERE number = 3", "a state there is not"},
          Damage{"UPDATE place SET flag = 200 WHERE id = 3", "a flag there is not"},
          Damage{"UPDATE place SET points = -5 WHERE id = 3", "has not all its points"},
          Damage{"DELETE FROM edge WHERE place_id = 2 AND point = 4", "has not all its points"},
          Damage{"DROP TABLE event", "no such table"}}) {
        const TestFolder folder;
        const auto path = folder / "book.headland";
        fullBook(path);
        sqlite(path, quoted(sql));
        const auto said = readingRefusal(path);
        CHECK(isSentence(said, path));
        CHECK_THAT(said, Contains(words) && Contains("move it away"));
    }
}

TEST_CASE("Rows that belong to nothing are found when a book is checked") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    fullBook(path);
    CHECK_NOTHROW(log::BookReader(path).check());
    sqlite(path, "'DELETE FROM job'");
    CHECK_THROWS_WITH(log::BookReader(path).check(), Contains("belong to nothing") && Catch::EndsWith("."));
}
