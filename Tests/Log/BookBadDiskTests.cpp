// SPDX-License-Identifier: GPL-3.0-or-later
// A disk that refuses, fails or dawdles, made up between SQLite and the real one: the cut goes on, nobody waits, and
// nothing is missing or doubled afterwards.

#include "Tests/Log/Books.h"
#include "Tests/Log/DiskShim.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;
using Catch::Matchers::Contains;

namespace {

constexpr std::int64_t frames = 1200;

/// A cut during which the disk fails for a while; returns what was said meanwhile.
std::string cutWhile(DiskShim& disk, std::atomic<int>& answer, int code, const std::string& path,
                     const std::string& words) {
    log::BookWriter writer(path);
    writer.begin(madeUpHead());
    tell(writer, 0, 300);
    writer.note({1, "before", log::utcNow()});
    REQUIRE(writer.flush(longEnough));
    REQUIRE(writer.status().trouble.empty());
    answer = code;
    writer.note({2, "meanwhile", log::utcNow()});
    tell(writer, 300, 900);
    const auto said = troubleWith(writer, words);
    CHECK(comesTrue([&] { return disk.refusals > 2; }));
    CHECK(writer.status().framesWaiting > 300); // what was not synced, but can be read back, waits no more
    answer = SQLITE_OK;
    tell(writer, 900, frames);
    writer.end(finishedAfter(frames));
    CHECK(writer.flush(longEnough));
    CHECK(writer.status().trouble.empty());
    return said;
}

} // namespace

TEST_CASE("A disk that refuses writes is said, and nothing is missing or doubled afterwards") {
    struct Refusal {
        int code;
        bool isSync;
        const char* words;
    };
    for (const auto& [code, isSync, words] : {Refusal{SQLITE_FULL, false, "disk is full; make room"},
                                              Refusal{SQLITE_IOERR_WRITE, false, "disk I/O error"},
                                              Refusal{SQLITE_IOERR_FSYNC, true, "disk I/O error"}}) {
        INFO(code);
        const TestFolder folder;
        const auto path = folder / "book.headland";
        {
            DiskShim disk;
            const auto said = cutWhile(disk, isSync ? disk.syncResult : disk.writeResult, code, path, words);
            CHECK_THAT(said, Contains(path) && Contains(words) && Contains(". The cut goes on: ")
                                 && Catch::EndsWith(" more."));
        }
        CHECK(faultOf(path, 1, frames).empty());
        log::BookReader reader(path);
        CHECK(reader.cuts().size() == 1);
        CHECK(reader.cut(1).notes.size() == 2);
        CHECK(reader.cut(1).events.empty());
    }
}

TEST_CASE("A cut whose first commit fails on its way to the disk is in the book once") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    {
        DiskShim disk;
        log::BookWriter writer(path);
        REQUIRE(comesTrue([&] { return std::filesystem::exists(path + "-wal"); }));
        std::this_thread::sleep_for(50ms); // all of its making is over
        disk.syncResult = SQLITE_IOERR_FSYNC;
        writer.begin(madeUpHead());
        tell(writer, 0, 300);
        troubleWith(writer, "disk I/O error");
        CHECK(comesTrue([&] { return disk.refusals > 2; }));
        disk.syncResult = SQLITE_OK;
        writer.end(finishedAfter(300));
        CHECK(writer.flush(longEnough));
    }
    CHECK(log::BookReader(path).cuts().size() == 1);
    CHECK(faultOf(path, 1, 300).empty());
}

TEST_CASE("On a slow disk frames wait, and whoever tells them does not") {
    constexpr std::int64_t slowFrames = 800;
    const TestFolder folder;
    const auto path = folder / "book.headland";
    std::chrono::duration<double> longest{0};
    {
        DiskShim disk;
        log::BookWriter writer(path);
        writer.begin(madeUpHead());
        REQUIRE(writer.flush(longEnough)); // it has been made: what follows is the cut's own
        disk.sync_ms = 300;
        disk.syncs = 0;
        const auto settings = madeUpHead().settings;
        std::size_t mostWaiting = 0;
        for (std::int64_t number = 0; number < slowFrames; ++number) {
            const auto frame = madeUpFrame(number, settings);
            const auto before = std::chrono::steady_clock::now();
            writer.frame(frame, number);
            if (number % 100 == 0)
                writer.event({number, frame.time_s, "cue", "band", NAN});
            longest =
                std::max<std::chrono::duration<double>>(longest, std::chrono::steady_clock::now() - before);
            mostWaiting = std::max(mostWaiting, writer.status().framesWaiting);
            std::this_thread::sleep_for(1ms);
        }
        CHECK(mostWaiting > 100);
        CHECK(disk.syncs > 2);
        writer.end(finishedAfter(slowFrames));
        CHECK(writer.flush(longEnough));
        CHECK(writer.status().trouble.empty());
        disk.sync_ms = 0;
    }
    CHECK(faultOf(path, 1, slowFrames).empty());
    CAPTURE(longest.count());
    CHECK(longest < 100ms); // on an idle machine far below a millisecond
}

TEST_CASE("A disk that does not answer is said after a while") {
    const TestFolder folder;
    const auto path = folder / "book.headland";
    {
        DiskShim disk;
        log::BookWriter writer(path);
        writer.begin(madeUpHead());
        tell(writer, 0, 10);
        REQUIRE(writer.flush(longEnough));
        disk.sync_ms = 3700;
        tell(writer, 10, 20);
        std::this_thread::sleep_for(2s);
        CHECK(writer.status().trouble.empty());
        CHECK_THAT(troubleWith(writer, "does not answer"),
                   Contains(path) && Contains("waits for its disk") && Contains(". The cut goes on: "));
        disk.sync_ms = 0;
        writer.end(finishedAfter(20));
        CHECK(writer.flush(longEnough));
        CHECK(writer.status().trouble.empty());
    }
    CHECK(faultOf(path, 1, 20).empty());
}
