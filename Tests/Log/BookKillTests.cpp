// SPDX-License-Identifier: GPL-3.0-or-later
// kill -9 at random moments: what a cut had been told up to a second before is in the book, the book is whole by the
// judgement of SQLite's own tool, and the next cut goes into it. Children write, several at once; the parent kills.

#include "Files/Errors.h"
#include "Tests/Log/Books.h"
#include "Tests/Support/Child.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <array>
#include <atomic>
#include <new>
#include <sys/mman.h>

using namespace headland;
using namespace headland::test;

namespace {

using Clock = std::chrono::steady_clock; // one for all processes of a machine

/// What a child has told its writer and when, in memory that outlives it.
struct Told {
    std::atomic<std::int64_t> frames{0};
    std::array<Clock::time_point, 20000> when{};
};

class SharedTold {
public:
    SharedTold() {
        auto* memory =
            ::mmap(nullptr, sizeof(Told), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
        if (memory == MAP_FAILED)
            throw std::runtime_error("no shared memory for the test");
        told = new (memory) Told;
    }
    ~SharedTold() { ::munmap(told, sizeof(Told)); }
    SharedTold(const SharedTold&) = delete;
    SharedTold& operator=(const SharedTold&) = delete;
    Told* operator->() const { return told; }

private:
    Told* told;
};

/// The child: a cut at `perSecond` frames, until it is killed.
int cutUntilKilled(const std::string& path, const SharedTold& told, int perSecond) {
    log::BookWriter writer(path);
    const auto settings = madeUpHead().settings;
    writer.begin(madeUpHead());
    const auto begun = Clock::now();
    for (std::int64_t number = 0; number < static_cast<std::int64_t>(told->when.size()); ++number) {
        std::this_thread::sleep_until(begun + std::chrono::microseconds(number * 1'000'000 / perSecond));
        writer.frame(madeUpFrame(number, settings), number);
        told->when[static_cast<std::size_t>(number)] = Clock::now();
        told->frames = number + 1;
    }
    std::this_thread::sleep_for(longEnough);
    return 1;
}

struct Killed {
    std::int64_t told = 0, kept = 0;
    double loss_s = 0; ///< from when the first frame that was lost had been told to the kill
    bool hadCut = false;
};

/// The frames of the first cut, by SQLite's own tool, in a copy so that it mends nothing for those who come after.
std::string judgedBySqlite(const std::string& path, const TestFolder& folder) {
    const auto copy = folder / "copy.headland";
    for (const auto* part : {"", "-wal", "-journal"}) {
        std::filesystem::remove(copy + part);
        if (std::filesystem::exists(path + part))
            std::filesystem::copy_file(path + part, copy + part);
    }
    return std::filesystem::exists(copy) ? sqlite(copy, "'PRAGMA integrity_check' 'PRAGMA foreign_key_check'")
                                         : "ok\n";
}

/// What the reader has of the first cut, and what it says if it has nothing.
log::FrameList framesAfter(const std::string& path, bool& hadCut) {
    std::string said;
    try {
        log::BookReader reader(path);
        hadCut = !reader.cuts().empty();
        return hadCut ? reader.cut(1).frames : log::FrameList();
    } catch (const files::InputError& refusal) {
        said = refusal.what();
    }
    CHECK_THAT(said, Catch::Contains(path) && Catch::EndsWith("."));
    CHECK_THAT(said, Catch::Contains("is empty") || Catch::Contains("There is no book")
                         || Catch::Contains("in the middle of a change"));
    return {};
}

Killed lookAfter(const std::string& path, const SharedTold& told, Clock::time_point when,
                 const TestFolder& folder) {
    Killed killed;
    killed.told = told->frames;
    CHECK(judgedBySqlite(path, folder) == "ok\n");
    const auto frames = framesAfter(path, killed.hadCut);
    killed.kept = static_cast<std::int64_t>(frames.size());
    CHECK((csvOf(frames) == csvOfMadeUp(killed.kept)));
    if (killed.kept < killed.told)
        killed.loss_s =
            std::chrono::duration<double>(when - told->when[static_cast<std::size_t>(killed.kept)]).count();
    makeBook(path, 50, headOf("Harbour Lights", "B")); // the next cut
    log::BookReader after(path);
    after.check();
    REQUIRE(after.cuts().size() == (killed.hadCut ? 2 : 1));
    CHECK(after.cuts().back().ending == "finished");
    CHECK(faultOf(path, after.cuts().back().cut, 50).empty());
    if (killed.hadCut) {
        CHECK_FALSE(after.cut(1).tail.has_value());
        CHECK(faultOf(path, 1, killed.kept).empty());
    }
    return killed;
}

/// `count` cuts at once, each killed at a moment of its own.
std::vector<Killed> killAtRandom(std::size_t count, double earliest_s, double latest_s, int perSecond,
                                 Random& random) {
    const TestFolder folder;
    std::vector<SharedTold> told(count);
    std::vector<pid_t> children;
    std::vector<std::pair<Clock::time_point, std::size_t>> moments;
    const auto pathOf = [&](std::size_t i) { return folder / (std::to_string(i) + ".headland"); };
    for (std::size_t i = 0; i < count; ++i) {
        const auto life = std::chrono::duration<double>(random.between(earliest_s, latest_s));
        moments.emplace_back(Clock::now() + std::chrono::duration_cast<Clock::duration>(life), i);
        children.push_back(startChild([&] { return cutUntilKilled(pathOf(i), told[i], perSecond); }));
    }
    std::sort(moments.begin(), moments.end());
    std::vector<Clock::time_point> killedAt(count);
    for (const auto& [moment, i] : moments) {
        std::this_thread::sleep_until(moment);
        killedAt[i] = Clock::now();
        ::kill(children[i], SIGKILL);
    }
    std::vector<Killed> all;
    for (std::size_t i = 0; i < count; ++i) {
        REQUIRE(resultOf(children[i]) == -SIGKILL);
        INFO("cut " << i << " of " << count);
        all.push_back(lookAfter(pathOf(i), told[i], killedAt[i], folder));
    }
    return all;
}

} // namespace

TEST_CASE("Killed at any moment, a cut loses no more than its last second") {
    Random random(20260314);
    std::vector<Killed> all;
    const auto add = [&](const std::vector<Killed>& some) {
        all.insert(all.end(), some.begin(), some.end());
    };
    for (int round = 0; round < 2; ++round) {
        add(killAtRandom(8, 1.1, 2.2, 300, random));
        add(killAtRandom(7, 0, 0.06, 300, random)); // while the book is being made
    }
    add(killAtRandom(3, 1.1, 1.6, 8000, random)); // far faster than real time
    for (const auto& killed : all) {
        CAPTURE(killed.told, killed.kept);
        CHECK(killed.loss_s < 1);
    }
}
