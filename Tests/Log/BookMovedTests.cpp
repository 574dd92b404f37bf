// SPDX-License-Identifier: GPL-3.0-or-later
// The book goes away while a cut is written into it: removed, replaced, renamed, its folder removed. The cut is whole in
// the book that is there afterwards, or that says which frames it lacks; no other book is touched.

#include "Log/BookPages.h"
#include "Tests/Log/Books.h"

#include <catch2/catch.hpp>

#include <functional>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

constexpr std::int64_t frames = 900;

/// A cut during which something is done to its book; whether it was written.
bool cutWhile(const std::string& path, const std::function<void()>& done,
              const log::CutHead& head = madeUpHead()) {
    log::BookWriter writer(path);
    writer.begin(head);
    writer.note({1, "before it went", log::utcNow()});
    tell(writer, 0, 300);
    if (!writer.flush(longEnough))
        return false;
    done();
    tell(writer, 300, frames);
    writer.end(finishedAfter(frames));
    return writer.flush(longEnough) && writer.status().trouble.empty();
}

/// The whole cut is there, and says once that it was begun anew.
void requireWhole(const std::string& path, std::int64_t cut) {
    CHECK(faultOf(path, cut, frames).empty());
    const auto read = log::BookReader(path).cut(cut);
    CHECK(read.notes.size() == 1);
    REQUIRE(read.events.size() == 1);
    CHECK(read.events[0].kind == "book");
    CHECK_THAT(read.events[0].what, Contains("removed or replaced"));
    CHECK(read.events[0].beforeFrame >= 300);
    REQUIRE(read.tail.has_value());
    CHECK(read.tail->frames == frames);
}

} // namespace

TEST_CASE("A book that is removed during a cut is begun anew with the whole cut") {
    for (const bool withLog : {false, true}) {
        INFO(withLog);
        const TestFolder folder;
        const auto path = folder / "book.headland";
        REQUIRE(cutWhile(path, [&] {
            std::filesystem::remove(path);
            if (withLog)
                for (const auto* part : {"-wal", "-shm"})
                    std::filesystem::remove(path + part);
        }));
        requireWhole(path, 1);
        CHECK(folder.count() == 1);
    }
}

TEST_CASE("A book that is replaced by another during a cut has both cuts, and the other's is as it was") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(folder / "other.headland", 2000, headOf("Harbour Lights", "A"));
    REQUIRE(cutWhile(path, [&] { std::filesystem::rename(folder / "other.headland", path); }));
    CHECK(faultOf(path, 1, 2000).empty());
    requireWhole(path, 2);
    CHECK(folder.count() == 1);
}

TEST_CASE("A book that is renamed away during a cut keeps what it had, and the cut is whole in a new one") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    REQUIRE(cutWhile(path, [&] { std::filesystem::rename(path, folder / "away.headland"); }));
    requireWhole(path, 1);
    CHECK(folder.count() == 2);
    const auto away = log::BookReader(folder / "away.headland").cut(1);
    CHECK_FALSE(away.tail.has_value());
    CHECK(away.frames.size() >= 300);
    CHECK((csvOf(away.frames) == csvOfMadeUp(static_cast<std::int64_t>(away.frames.size()))));
}

TEST_CASE("A book whose folder is removed is said, and the cut is whole when there is a folder again") {
    const TestFolder folder;
    const auto inner = folder / "inner";
    const auto path = inner + "/book.headland";
    std::filesystem::create_directory(inner);
    log::BookWriter writer(path);
    writer.begin(madeUpHead());
    writer.note({1, "before it went", log::utcNow()});
    tell(writer, 0, 300);
    REQUIRE(writer.flush(longEnough));
    std::filesystem::remove_all(inner);
    tell(writer, 300, frames);
    CHECK_THAT(
        troubleWith(writer, "no folder"),
        Contains(path
                 + " has no folder any more; make that again, or choose another place. The cut goes on: "));
    CHECK(writer.status().framesWaiting == frames);
    std::filesystem::create_directory(inner);
    writer.end(finishedAfter(frames));
    CHECK(writer.flush(longEnough));
    CHECK(writer.status().trouble.empty());
    requireWhole(path, 1);
}

TEST_CASE("A cut that answers another is whole in a new book that does not have that other") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 20);
    auto head = madeUpHead();
    head.answers = 1;
    REQUIRE(cutWhile(
        path, [&] { std::filesystem::remove(path); }, head));
    requireWhole(path, 1);
    CHECK_FALSE(log::BookReader(path).cut(1).head.answers.has_value());
}

TEST_CASE(
    "A cut that answers another does not answer the cut of that number in the book that took the place") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    makeBook(path, 20);
    makeBook(folder / "other.headland", 30, headOf("Harbour Lights", "A"));
    auto head = madeUpHead();
    head.answers = 1;
    REQUIRE(cutWhile(
        path, [&] { std::filesystem::rename(folder / "other.headland", path); }, head));
    requireWhole(path, 2);
    CHECK_FALSE(log::BookReader(path).cut(2).head.answers.has_value());
}

TEST_CASE("A book that is removed under two writers has both cuts whole") {
    for (int round = 0; round < 4; ++round) {
        const TestFolder folder;
        const auto path = folder / "book.headland";
        log::BookWriter first(path);
        log::BookWriter second(path);
        for (auto* writer : {&first, &second}) {
            writer->begin(headOf("Lantern Sessions", writer == &first ? "A" : "B"));
            tell(*writer, 0, 300);
        }
        REQUIRE(first.flush(longEnough));
        REQUIRE(second.flush(longEnough));
        std::this_thread::sleep_for(std::chrono::milliseconds(30 * round)); // anywhere in their periods
        std::filesystem::remove(path);
        for (std::int64_t at = 300; at < frames; at += 100)
            for (auto* writer : {&first, &second}) {
                tell(*writer, at, at + 100);
                std::this_thread::sleep_for(25ms);
            }
        for (auto* writer : {&first, &second}) {
            writer->end(finishedAfter(frames));
            CHECK(writer->flush(longEnough));
            CHECK(writer->status().trouble.empty());
        }
        for (const auto* writer : {&first, &second})
            CHECK(faultOf(path, writer->status().cut, frames).empty());
        CHECK(log::BookReader(path).cuts().size() == 2);
    }
}

TEST_CASE("A book that was removed is left without harm to the next one in its place") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    const auto cutOf = [](log::BookPages& pages, const std::string& side) {
        log::Transaction transaction(pages.database());
        const auto cut = pages.beginCut(headOf("Lantern Sessions", side), log::utcNow());
        for (std::int64_t number = 0; number < 300; ++number)
            pages.frame(cut, number, madeUpFrame(number, madeUpHead().settings));
        transaction.commit();
    };
    auto first = std::make_unique<log::BookPages>(path);
    cutOf(*first, "A");
    auto second = std::make_unique<log::BookPages>(path);
    cutOf(*second, "B");
    std::filesystem::remove(path);
    first.reset();
    auto next = std::make_unique<log::BookPages>(path); // while the second still has what went
    cutOf(*next, "C");
    cutOf(*second, "D");
    second.reset();
    cutOf(*next, "E");
    next.reset();
    CHECK(log::BookReader(path).cuts().size() == 2);
    for (const std::int64_t cut : {1, 2})
        CHECK(faultOf(path, cut, 300).empty());
    CHECK(folder.count() == 1);
}

TEST_CASE("What is noted after a cut whose book has gone is said to be lost, and the next cut ends that") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    log::BookWriter writer(path);
    writer.begin(madeUpHead());
    tell(writer, 0, 10);
    writer.end(finishedAfter(10));
    REQUIRE(writer.flush(longEnough));
    std::filesystem::remove(path);
    REQUIRE(comesTrue([&] { return std::filesystem::exists(path); }));
    writer.note({1, "too late", log::utcNow()});
    CHECK_THAT(troubleWith(writer, "not kept"), Contains(path + " does not hold the last cut any more"));
    writer.begin(headOf("Lantern Sessions", "B"));
    tell(writer, 0, 20);
    writer.end(finishedAfter(20));
    CHECK(writer.flush(longEnough));
    CHECK(comesTrue([&] { return writer.status().trouble.empty(); }));
    CHECK(faultOf(path, 1, 20).empty());
}
