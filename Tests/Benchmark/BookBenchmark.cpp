// SPDX-License-Identifier: GPL-3.0-or-later
// The book: what a side of twenty minutes takes on the disk, how long it takes to open it for review beside SQLite's own
// command-line tool reading the same rows, and what the log costs the audio thread.
// Run by: cmake --build build/release --target benchmark

#include "Plugin/AudioSide.h"
#include "Tests/Benchmark/Cost.h"
#include "Tests/Benchmark/Noise.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Log/Cuts.h"
#include "Tests/Support/Median.h"

#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <thread>

using namespace headland;
using namespace headland::test;

namespace {

constexpr int rounds = 5;

/// Runs a side of noise through the audio thread's side as a host would, and returns the time that thread worked. Another
/// thread takes what is told, as the service does.
double audioCost_s(const Program& program, bool isLogged) {
    constexpr int blockSize = 64;
    plugin::Link link;
    link.edgesWanted.set(isLogged ? 1 : 0);
    plugin::AudioSide side(link);
    link.cuts.offer(std::make_unique<plugin::LiveCut>(plugin::LiveSetup{{}, {}, program.rate_hz, false, 1}));
    handoff::Cell<int> isOver{0};
    std::thread service([&] {
        std::vector<handoff::CutEvent> events(1024);
        std::vector<handoff::EdgeChunk> edges(1024);
        while (isOver.get() == 0 || link.events.drain(events) + link.edges.drain(edges) > 0) {
            link.events.drain(events);
            link.edges.drain(edges);
            std::this_thread::sleep_for(std::chrono::milliseconds(2));
        }
    });
    side.prepare(std::nullopt);
    side.cue(cut::Cue::leadIn);
    std::vector<float> left(blockSize), right(blockSize);
    const auto start = threadTime_s();
    for (std::size_t at = 0; at + blockSize <= program.length(); at += blockSize) {
        const auto* l = &program.left[at];
        const auto* r = &program.right[at];
        side.begin(std::nullopt);
        side.process({l, r, nullptr, nullptr, left.data(), right.data(), nullptr, nullptr}, blockSize, {});
        side.end();
    }
    const auto cost = threadTime_s() - start;
    isOver.set(1);
    service.join();
    handoff::LiveStatus status;
    link.status.read(status);
    CHECK(status.state == cut::State::program);
    CHECK(status.framesLost == 0);
    CHECK(link.edges.refused() == 0);
    return cost;
}

} // namespace

TEST_CASE("a side of twenty minutes in a book: room on the disk, and time to open it", "[book]") {
    constexpr double greatestSize_mb = 25, greatestOpening_s = 0.1;
    const TestFolder folder;
    const auto side = folder / "side.wav", book = folder / "book.headland";
    makeProgram(side, 20 * 60);
    for (const auto* level : {"-2", "2"}) { // few places flagged, and as many as are kept
        std::filesystem::remove(book);
        const auto setting = std::string("disc_level_db=") + level;
        const auto plain = costOf({HEADLAND_TOOL, "cut", side, "--quiet", "--set", setting});
        const auto logged = costOf({HEADLAND_TOOL, "cut", side, "--quiet", "--set", setting, "--book", book});
        REQUIRE((logged.code == 0 || logged.code == 3));
        const auto size_mb = static_cast<double>(std::filesystem::file_size(book)) / 1e6;
        std::printf("20 minutes at %s dB in a book: %.1f MB (at most %.0f); cut %.2f s, with the book %.2f s "
                    "by the clock\n",
                    level, size_mb, greatestSize_mb, plain.wall_s, logged.wall_s);
        CHECK(size_mb <= greatestSize_mb);
    }
    std::vector<double> review_s, sqlite_s;
    for (int i = 0; i < rounds; ++i) {
        const auto review = costOf({HEADLAND_TOOL, "review", book, "1", "--quiet"});
        const auto sqlite = costOf({"sqlite3", "-readonly", book, "SELECT * FROM cut_log WHERE cut_id = 1"});
        REQUIRE(review.code == 0);
        REQUIRE(sqlite.code == 0);
        review_s.push_back(review.wall_s);
        sqlite_s.push_back(sqlite.wall_s);
    }
    std::printf("  opened for review in %.3f s by the clock (at most %.1f); sqlite3 reads its rows in %.2f "
                "s, ratio %.2f\n",
                median(review_s), greatestOpening_s, median(sqlite_s), median(review_s) / median(sqlite_s));
    CHECK(median(review_s) < greatestOpening_s);
}

TEST_CASE("a cut of three hours is reviewed in little memory", "[book]") {
    constexpr double greatestMemory_mb = 300;
    const TestFolder folder;
    const auto book = folder / "book.headland";
    {
        log::BookWriter writer(book);
        auto head = madeUpHead();
        writer.begin(head);
        const auto sectors = std::llround(3 * 3600 / head.settings.sector_s());
        for (std::int64_t i = 0; i < sectors; ++i) {
            writer.frame(madeUpFrame(i, head.settings), i);
            if (i % 100'000 == 0)
                REQUIRE(writer.flush(std::chrono::minutes(1)));
        }
        writer.end({"finished", false, sectors, 0, NAN});
        REQUIRE(writer.flush(std::chrono::minutes(5)));
    }
    const auto review = costOf({HEADLAND_TOOL, "review", book, "1", "--csv", folder / "a.csv", "--quiet"});
    REQUIRE((review.code == 0 || review.code == 3));
    std::printf("three hours reviewed, with CSV: %.0f MB (at most %.0f), %.1f s\n", review.memory_mb,
                greatestMemory_mb, review.wall_s);
    CHECK(review.memory_mb <= greatestMemory_mb);
}

TEST_CASE("what the log costs the audio thread", "[engine]") {
    constexpr double greatestShare = 0.001; // of a core
    const auto program = noise(40, 96000);
    const auto length_s = static_cast<double>(program.length()) / program.rate_hz;
    std::vector<double> shares, differences, spread;
    for (int i = 0; i < 2 * rounds; ++i) {
        const auto before = audioCost_s(program, false), with = audioCost_s(program, true),
                   after = audioCost_s(program, false);
        shares.push_back((before + after) / 2 / length_s);
        differences.push_back((with - (before + after) / 2) / length_s);
        spread.push_back(std::abs(after - before) / length_s);
    }
    std::printf("audio thread: %.3f %% of a core, the log %.3f %% more (at most %.1f); two runs alike differ "
                "by %.3f %% "
                "(medians of %d)\n",
                100 * median(shares), 100 * median(differences), 100 * greatestShare, 100 * median(spread),
                2 * rounds);
    CHECK(median(differences) <= greatestShare);
}
