// SPDX-License-Identifier: GPL-3.0-or-later
// A new book comes into its place whole or not at all, whatever happens while it is made.

#include "Log/BookPages.h"
#include "Tests/Log/Books.h"
#include "Tests/Support/Child.h"

#include <catch2/catch.hpp>

#include <future>

using namespace headland;
using namespace headland::test;

namespace {

/// The steps there are, and one more.
std::vector<log::BookStep> stepsAnd(const std::string& sql) {
    const auto known = log::bookSteps();
    std::vector<log::BookStep> steps(known.begin(), known.end());
    steps.push_back({log::bookVersion() + 1, sql});
    return steps;
}

/// A step that counts so far: two million take a good part of a second.
std::string counting(long upTo) {
    return "CREATE TABLE counted AS WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n LIMIT "
           + std::to_string(upTo) + ") SELECT count(*) AS number FROM n";
}

bool hasPart(const TestFolder& folder) {
    for (const auto& entry : std::filesystem::directory_iterator(folder.path()))
        if (entry.path().string().ends_with(".headland.part"))
            return true;
    return false;
}

/// Bytes 60 to 63 of SQLite's header (sqlite.org/fileformat2.html, 1.3), without opening it as a database; -1: too short.
int versionIn(const std::string& bytes) {
    constexpr std::size_t lowByte = 63;
    return bytes.size() > lowByte ? static_cast<unsigned char>(bytes[lowByte]) : -1;
}

} // namespace

TEST_CASE("While a book is made there is none in its place, and then a whole one") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    const auto steps = stepsAnd(counting(2'000'000));
    auto maker = std::async(std::launch::async, [&] { const log::BookPages pages(path, steps); });
    auto looks = 0, early = 0;
    for (auto isThere = false; !isThere;) {
        const auto wasMaking = hasPart(folder);
        isThere = std::filesystem::exists(path);
        looks += wasMaking ? 1 : 0;
        early += isThere && versionIn(contentOf(path)) != steps.back().version ? 1 : 0;
    }
    maker.get();
    CHECK(looks > 10);
    CHECK(early == 0);
    CHECK(folder.count() == 1);
}

TEST_CASE("A book that cannot be made whole leaves nothing") {
    const TestFolder folder;
    CHECK_THROWS_AS(log::BookPages(folder / "book.headland", stepsAnd("no SQL at all")), log::DatabaseError);
    CHECK(folder.count() == 0);
}

TEST_CASE("A book that another program has made meanwhile stays, with what is in it") {
    const TestFolder folder, elsewhere;
    const auto path = folder / "book.headland", other = elsewhere / "other.headland";
    const auto steps = stepsAnd(counting(2'000'000));
    {
        log::BookPages pages(other, steps);
        pages.beginCut(madeUpHead(), log::utcNow());
    }
    auto maker = std::async(std::launch::async, [&] { const log::BookPages pages(path, steps); });
    CHECK(comesTrue([&] { return hasPart(folder); }));
    std::filesystem::copy_file(other, path);
    maker.get();
    CHECK(sqlite(path, "'SELECT count(*) FROM cut'") == "1\n");
    CHECK(folder.count() == 1);
}

TEST_CASE("A run that is killed while it makes a book leaves what the next one removes") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    const auto steps = stepsAnd(counting(2'000'000'000));
    const auto child = startChild([&] {
        const log::BookPages pages(path, steps);
        return 1;
    });
    CHECK(comesTrue([&] { return hasPart(folder); }));
    std::this_thread::sleep_for(300ms); // well into the steps
    ::kill(child, SIGKILL);
    REQUIRE(resultOf(child) == -SIGKILL);
    CHECK(folder.count() == 1);
    makeBook(path, 20);
    CHECK(folder.count() == 1);
    CHECK(faultOf(path, 1, 20).empty());
}
