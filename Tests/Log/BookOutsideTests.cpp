// SPDX-License-Identifier: GPL-3.0-or-later
// The book by the eyes of others: SQLite's own command-line tool exports the view cut_log as CSV, Miller (mlr) reads that,
// and it is our frames to the last place of our own CSV, which Miller reads too. And what the file says of itself.

#include "Log/BookPages.h"
#include "Log/BookSchema.h"
#include "Log/FrameColumns.h"
#include "Tests/Log/Books.h"

#include <catch2/catch.hpp>

#include <map>
#include <sqlite3.h>
#include <sstream>

using namespace headland;
using namespace headland::test;

namespace {

/// A table as Miller understands a CSV file: rows of named fields. Tabs between fields, no quotes, so that nothing is left
/// to read cleverly.
std::vector<std::map<std::string, std::string>> tableByMiller(const std::string& csvPath) {
    std::istringstream lines(runCommand("mlr --icsv --otsv cat " + quoted(csvPath)));
    const auto fieldsOf = [](const std::string& line) {
        std::vector<std::string> fields(1);
        for (const auto c : line)
            c == '\t' ? fields.emplace_back() : fields.back() += c;
        return fields;
    };
    std::string line;
    std::getline(lines, line);
    const auto names = fieldsOf(line);
    std::vector<std::map<std::string, std::string>> rows;
    while (std::getline(lines, line)) {
        const auto fields = fieldsOf(line);
        rows.emplace_back();
        for (std::size_t i = 0; i < std::min(names.size(), fields.size()); ++i)
            rows.back()[names[i]] = fields[i];
    }
    return rows;
}

int decimalsOf(const std::string& name) {
    for (const auto& column : log::frameColumns)
        if (column.name == name)
            return column.decimals;
    return -1; // text
}

/// The same figure to the last place that our CSV has.
bool isSameField(const std::string& name, const std::string& ours, const std::string& theirs) {
    const auto decimals = decimalsOf(name);
    if (decimals < 0 || ours.empty() || theirs.empty())
        return ours == theirs;
    const auto figure = std::stod(ours);
    const auto place = std::max(0.01 / log::powerOfTen(decimals), 1e-14 * std::abs(figure)); // its 15 figures
    return std::abs(std::stod(theirs) - figure) <= place;
}

void exportBySqlite(const std::string& path, const std::string& sql, const std::string& csvPath) {
    runCommand("sqlite3 -readonly -csv -header -batch " + quoted(path) + " " + quoted(sql) + " > "
               + quoted(csvPath));
}

} // namespace

TEST_CASE("The cut log by SQLite's own tool, read by Miller, is our own CSV") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    auto frames = madeUpFrames(3000);
    for (std::size_t i = 0; i < frames.size(); i += 7)
        frames[i].flags = static_cast<std::uint16_t>(i * 37 % 512); // every combination comes
    {
        log::BookWriter writer(path);
        writer.begin(madeUpHead());
        tell(writer, frames);
        writer.end(finishedAfter(3000));
        REQUIRE(writer.flush(longEnough));
    }
    put(folder / "ours.csv", csvOf(frames));
    exportBySqlite(path, "SELECT * FROM cut_log WHERE cut_id = 1 ORDER BY number", folder / "theirs.csv");
    const auto ours = tableByMiller(folder / "ours.csv");
    const auto theirs = tableByMiller(folder / "theirs.csv");
    REQUIRE(ours.size() == 3000);
    REQUIRE(theirs.size() == 3000);
    REQUIRE(ours[0].size() == log::csvColumns + 2);
    REQUIRE(theirs[0].size() == ours[0].size() + 2); // the cut and the frame's number
    int different = 0;
    for (std::size_t row = 0; row < ours.size() && different < 5; ++row) {
        for (const auto& [name, field] : ours[row]) {
            if (isSameField(name, field, theirs[row].at(name)))
                continue;
            ++different;
            CAPTURE(row, name, field, theirs[row].at(name));
            CHECK(isSameField(name, field, theirs[row].at(name)));
        }
        CHECK(theirs[row].at("number") == std::to_string(row));
    }
}

TEST_CASE("The list of cuts by SQLite's own tool has job and side word for word") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    const std::string job = "Lantern Sessions, \"take 2\"; it's \xc3\xa9t\xc3\xa9'); DROP TABLE cut; --";
    makeBook(path, 20, headOf(job, "A"));
    exportBySqlite(path, "SELECT * FROM cut_list", folder / "cuts.csv");
    const auto cuts = tableByMiller(folder / "cuts.csv");
    REQUIRE(cuts.size() == 1);
    CHECK(cuts[0].at("job") == job);
    CHECK(cuts[0].at("side") == "A");
    CHECK(cuts[0].at("frames") == "20");
    CHECK(cuts[0].at("ending") == "finished");
}

TEST_CASE("A book says what it is and of which version, and is whole by SQLite's own tool") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 500);
    CHECK(sqlite(path, "'PRAGMA application_id' 'PRAGMA user_version' 'PRAGMA journal_mode'")
          == std::to_string(log::bookId) + "\n" + std::to_string(log::bookVersion()) + "\ndelete\n");
    CHECK(sqlite(path, "'PRAGMA integrity_check' 'PRAGMA foreign_key_check'") == "ok\n");
}

TEST_CASE("A book that is written into is journalled, and what is committed is on the disk") {
    const TestFolder folder;
    log::BookPages pages(folder / "book.headland");
    CHECK(pages.database().text("PRAGMA journal_mode") == "wal");
    CHECK(pages.database().number("PRAGMA synchronous") == 2); // FULL
}

TEST_CASE("A row that belongs to nothing is refused by our connection") {
    const TestFolder folder;
    log::BookPages pages(folder / "book.headland");
    CHECK(pages.database().number("PRAGMA foreign_keys") == 1);
    try {
        pages.frame(5, 0, madeUpFrame(0, madeUpHead().settings)); // there is no cut 5
        FAIL("it was taken");
    } catch (const log::DatabaseError& refusal) {
        CHECK(refusal.code == SQLITE_CONSTRAINT_FOREIGNKEY);
    }
}
