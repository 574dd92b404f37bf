// SPDX-License-Identifier: GPL-3.0-or-later
// An older book becomes one of today, whole or not at all, whoever is quicker. With steps of the test's own over real SQL;
// and what today's version of the book is, as docs/log/schema.sql has it. Real older books: OldBookTests.cpp.

#include "Log/BookPages.h"
#include "Log/BookSchema.h"
#include "Tests/Log/Books.h"
#include "Tests/Support/Child.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

using Steps = std::vector<log::BookStep>;

/// Three versions of a book: the second has a column more, the third has its table made anew without another.
Steps threeSteps() {
    return {{1, "CREATE TABLE side(id INTEGER PRIMARY KEY, name TEXT NOT NULL, colour TEXT);"
                "INSERT INTO side VALUES(1, 'A', 'black'), (2, 'B', 'red');"},
            {2, "ALTER TABLE side ADD COLUMN minutes REAL; UPDATE side SET minutes = id * 10.5;"},
            {3, "CREATE TABLE side_3(id INTEGER PRIMARY KEY, name TEXT NOT NULL, minutes REAL);"
                "INSERT INTO side_3 SELECT id, name, minutes FROM side; DROP TABLE side;"
                "ALTER TABLE side_3 RENAME TO side;"}};
}

void bring(const std::string& path, std::span<const log::BookStep> steps) {
    log::Database database(path, log::Database::Access::write, 10000);
    log::bringUpToDate(database, steps);
}

std::string said(const std::string& path, const std::string& sql) {
    return sqlite(path, quoted(sql));
}

/// The real steps, and two that a later Headland might have.
Steps laterSteps() {
    Steps steps(log::bookSteps().begin(), log::bookSteps().end());
    const auto newest = log::bookVersion();
    steps.push_back({newest + 1, "ALTER TABLE cut ADD COLUMN operator TEXT NOT NULL DEFAULT 'unknown';"});
    steps.push_back({newest + 2, "CREATE TABLE lacquer(id INTEGER PRIMARY KEY, name TEXT NOT NULL);"
                                 "INSERT INTO lacquer VALUES(1, 'invented');"});
    return steps;
}

std::string schemaPath() {
    return HEADLAND_ROOT "/docs/log/schema.sql";
}

std::string schemaNow() {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    { const log::BookPages pages(path); }
    return schemaOf(path);
}

} // namespace

TEST_CASE("An older book is brought up to date and keeps its rows") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    const auto steps = threeSteps();
    bring(path, std::span(steps).first(1));
    CHECK(said(path, "PRAGMA user_version") == "1\n");
    bring(path, steps);
    CHECK(said(path, "PRAGMA user_version; PRAGMA application_id") == "3\n1214540898\n");
    CHECK(said(path, "SELECT * FROM side") == "1|A|10.5\n2|B|21.0\n");
    bring(path, steps); // again: nothing to do
    CHECK(said(path, "SELECT * FROM side") == "1|A|10.5\n2|B|21.0\n");
    CHECK_THROWS_AS(bring(path, std::span(steps).first(2)), log::BookRefused); // newer now
}

TEST_CASE("A new book goes through every step") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    bring(path, threeSteps());
    CHECK(said(path, "SELECT * FROM side") == "1|A|10.5\n2|B|21.0\n");
}

TEST_CASE("A step that fails leaves the older book whole") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    auto steps = threeSteps();
    bring(path, std::span(steps).first(1));
    const auto before = said(path, ".dump");
    steps[2].sql += "INSERT INTO no_such_table VALUES(1);";
    CHECK_THROWS_AS(bring(path, steps), log::DatabaseError);
    CHECK(said(path, ".dump") == before);
    CHECK(said(path, "PRAGMA user_version; PRAGMA application_id") == "1\n1214540898\n");
    const auto empty = folder / "empty.headland";
    CHECK_THROWS_AS(bring(empty, steps), log::DatabaseError);
    CHECK(said(empty, ".dump") == said(folder / "none.headland", ".dump"));
    bring(path, threeSteps());
    CHECK(said(path, "SELECT count(*) FROM side") == "2\n");
}

TEST_CASE("Two processes that bring a book up to date at once both end well") {
    const auto steps = threeSteps();
    for (int round = 0; round < 10; ++round) {
        const TestFolder folder;
        const auto path = folder / "book.headland";
        if (round % 2 == 0)
            bring(path, std::span(steps).first(1));
        std::vector<pid_t> children;
        for (int child = 0; child < 3; ++child)
            children.push_back(startChild([&] {
                bring(path, steps);
                return 0;
            }));
        for (const auto child : children)
            CHECK(resultOf(child) == 0);
        CHECK(said(path, "SELECT * FROM side; PRAGMA user_version") == "1|A|10.5\n2|B|21.0\n3\n");
    }
}

TEST_CASE("A book of today with its cuts is brought up to what comes later, and is refused to today's from "
          "then on") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 300);
    const auto before = said(path, "SELECT * FROM cut_log");
    { const log::BookPages pages(path, laterSteps()); }
    CHECK((said(path, "SELECT * FROM cut_log") == before));
    CHECK(said(path, "SELECT operator FROM cut; SELECT name FROM lacquer") == "unknown\ninvented\n");
    CHECK_THROWS_AS(log::BookPages(path), log::BookRefused);
}

TEST_CASE("The schema is the one in docs/log/schema.sql") {
    INFO("A book that was written once keeps its schema: add a step to Source/Log/BookSteps.cpp, never "
         "change one.");
    CHECK((schemaNow() == contentOf(schemaPath())));
}

TEST_CASE("docs/log/schema.sql, read by SQLite's own tool, makes an empty book") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    runCommand("sqlite3 -batch " + quoted(path) + " < " + quoted(schemaPath()));
    CHECK(log::BookReader(path).cuts().empty());
    makeBook(path, 20);
    CHECK(faultOf(path, 1, 20).empty());
}

TEST_CASE("Every state and flag of today, and no other, has its name in a new book") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    { const log::BookPages pages(path); }
    std::string states, flags;
    for (int code = 1; !name(static_cast<cut::State>(code)).empty(); ++code)
        states += std::to_string(code) + "|" + std::string(name(static_cast<cut::State>(code))) + "\n";
    for (int bit = 0; bit < cut::flagCount; ++bit)
        flags += std::to_string(bit) + "|" + std::string(name(cut::flagAt(bit))) + "\n";
    CHECK(said(path, "SELECT * FROM stylus_state ORDER BY code") == states);
    CHECK(said(path, "SELECT * FROM flag ORDER BY bit") == flags);
}

TEST_CASE("Writes docs/log/schema.sql anew", "[.][schema]") {
    put(schemaPath(), schemaNow());
}
