// SPDX-License-Identifier: GPL-3.0-or-later
// The bound of memory: a cut holds no more frames than it may, says when that is reached, and the book says exactly which
// frames are missing. Frames and gaps together are every frame of the cut, each once.

#include "Log/Database.h"
#include "Tests/Log/Books.h"
#include "Tests/Log/DiskShim.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

constexpr std::size_t most = 500;

log::BookWriter::Options smallMemory() {
    return {.framesMax = most};
}

/// A book that nobody else may write into, until it is let go.
class Held {
public:
    explicit Held(const std::string& path) : database(path, log::Database::Access::write, 5000) {
        database.run("BEGIN IMMEDIATE");
    }
    void letGo() { database.run("ROLLBACK"); }

private:
    log::Database database;
};

double timeOf(std::int64_t frame) {
    return madeUpFrame(frame, madeUpHead().settings).time_s;
}

/// What is kept are the frames that the one gap leaves of `count`, and the gap says so by number, time and reason.
void requireOneGap(const log::LoggedCut& read, std::int64_t first, std::int64_t last, std::int64_t count,
                   const std::string& why) {
    REQUIRE(read.gaps.size() == 1);
    CHECK(read.gaps[0].firstFrame == first);
    CHECK(read.gaps[0].lastFrame == last);
    CHECK(read.gaps[0].from_s == Approx(timeOf(first - 1)));
    CHECK(read.gaps[0].to_s == Approx(timeOf(last)));
    CHECK_THAT(read.gaps[0].why, Contains(why));
    auto kept = madeUpFrames(count);
    kept.erase(kept.begin() + static_cast<std::ptrdiff_t>(first),
               kept.begin() + static_cast<std::ptrdiff_t>(last) + 1);
    CHECK((csvOf(read.frames) == csvOf(kept)));
}

/// A cut of which frames 100 … 1099 come while the disk is full: 100 … 599 have room.
void cutBeyondRoom(log::BookWriter& writer, DiskShim& disk) {
    writer.begin(madeUpHead());
    tell(writer, 0, 100);
    REQUIRE(writer.flush(longEnough));
    disk.writeResult = SQLITE_FULL;
    tell(writer, 100, 500);
    CHECK_THAT(troubleWith(writer, "disk is full"),
               Catch::EndsWith(" The cut goes on: 0:03 of it wait in memory, which has room for 0:01 more."));
    tell(writer, 500, 1100);
    CHECK(writer.status().framesWaiting == most);
    CHECK(writer.status().framesMissing == 500);
    CHECK_THAT(writer.status().trouble,
               Catch::EndsWith("which has room for no more: what comes now is lost."));
    disk.writeResult = SQLITE_OK;
    REQUIRE(writer.flush(longEnough));
}

} // namespace

TEST_CASE("Frames for which there is no room are a gap, by number and time, when the cut goes on") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    DiskShim disk;
    log::BookWriter writer(path, smallMemory());
    cutBeyondRoom(writer, disk);
    tell(writer, 1100, 1200);
    writer.end(finishedAfter(1200));
    CHECK(writer.flush(longEnough));
    CHECK(writer.status().trouble.empty());
    CHECK(writer.status().framesMissing == 500);
    const auto read = log::BookReader(path).cut(1);
    requireOneGap(read, 600, 1099, 1200, "no room in memory");
    CHECK(read.tail->frames == 1200);
}

TEST_CASE(
    "Frames for which there is no room are a gap when they are the last of the cut, ended or broken off") {
    for (const bool isEnded : {true, false}) {
        INFO(isEnded);
        const TestFolder folder;
        const auto path = folder / "book.headland";
        {
            DiskShim disk;
            log::BookWriter writer(path, smallMemory());
            cutBeyondRoom(writer, disk);
            if (isEnded)
                writer.end(finishedAfter(1100));
            CHECK(writer.flush(longEnough));
        }
        const auto read = log::BookReader(path).cut(1);
        requireOneGap(read, 600, 1099, 1100, "no room in memory");
        CHECK(read.tail.has_value() == isEnded);
    }
}

TEST_CASE("Memory that is full of what is in the book has room") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    DiskShim disk;
    log::BookWriter writer(path, smallMemory());
    writer.begin(madeUpHead());
    for (std::int64_t at = 0; at < 2000; at += 100) {
        tell(writer, at, at + 100);
        REQUIRE(writer.flush(longEnough));
    }
    disk.writeResult = SQLITE_FULL;
    tell(writer, 2000, 2010);
    CHECK_THAT(troubleWith(writer, "disk is full"), Catch::EndsWith("room for 0:03 more."));
    disk.writeResult = SQLITE_OK;
    writer.end(finishedAfter(2010));
    CHECK(writer.flush(longEnough));
    CHECK(faultOf(path, 1, 2010).empty());
}

TEST_CASE("Frames that were only in the book that went are a gap in the next, and again in the one after") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    log::BookWriter writer(path, smallMemory());
    writer.begin(madeUpHead());
    const auto tellSome = [&](std::int64_t first, std::int64_t last) {
        for (auto at = first; at < last; at += 100) {
            tell(writer, at, at + 100);
            REQUIRE(writer.flush(longEnough));
        }
    };
    tellSome(0, 1000);
    std::int64_t count = 1000;
    for (const std::int64_t more : {100, 700}) {
        std::filesystem::remove(path);
        REQUIRE(comesTrue([&] { return std::filesystem::exists(path); }));
        REQUIRE(writer.flush(longEnough));
        const auto first = static_cast<std::int64_t>(count - static_cast<std::int64_t>(most));
        tellSome(count, count + more);
        count += more;
        const auto read = log::BookReader(path).cut(1);
        REQUIRE(read.gaps.size() == 1);
        CHECK(read.gaps[0].firstFrame == 0);
        CHECK(read.gaps[0].lastFrame == first - 1);
        CHECK(read.gaps[0].from_s == Approx(timeOf(-1)));
        CHECK(read.gaps[0].to_s == Approx(timeOf(first - 1)));
        CHECK_THAT(read.gaps[0].why, Contains("in the book that was removed"));
        auto kept = madeUpFrames(count);
        kept.erase(kept.begin(), kept.begin() + static_cast<std::ptrdiff_t>(first));
        CHECK((csvOf(read.frames) == csvOf(kept)));
    }
    writer.end(finishedAfter(count));
    CHECK(writer.flush(longEnough));
    CHECK(log::BookReader(path).cut(1).tail->frames == count);
}

TEST_CASE("A book that is read while much is written says no more than it has") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    log::BookWriter writer(path);
    writer.begin(madeUpHead());
    REQUIRE(writer.flush(longEnough));
    {
        const Held held(path);
        tell(writer, 0, 20000); // several transactions
        writer.frame(madeUpFrame(20100, madeUpHead().settings), 20100);
        tell(writer, 20101, 30000);
    }
    log::BookReader reader(path);
    std::size_t reads = 0;
    while (writer.status().framesWaiting > 0) {
        REQUIRE_NOTHROW(reader.cut(1));
        ++reads;
    }
    CHECK(reads > 0);
    writer.end(finishedAfter(30000));
    CHECK(writer.flush(longEnough));
    CHECK(reader.cut(1).gaps.size() == 1);
}
