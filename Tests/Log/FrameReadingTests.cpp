// SPDX-License-Identifier: GPL-3.0-or-later
// Frames read by several threads are those that one would read, in their order; what has no number is no figure.

#include "Log/FrameReading.h"

#include "Log/BookPages.h"
#include "Tests/Log/Books.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

/// Where the second thread begins in a cut of frames 0 to 40000 (blocks are parts of 16384, and 20000 are worth a thread).
constexpr std::int64_t border = 1 << 14;
constexpr std::int64_t lastNumber = 40'000;

/// A book with one cut that has these frames only.
class SparseBook {
public:
    explicit SparseBook(const std::vector<std::int64_t>& numbers) {
        log::BookPages pages(path);
        const auto head = madeUpHead();
        const auto cut = pages.beginCut(head, log::utcNow());
        log::Transaction transaction(pages.database());
        for (const auto number : numbers)
            pages.frame(cut, number, madeUpFrame(number, head.settings));
        transaction.commit();
    }
    void change(const std::string& sql) const {
        log::Database(path, log::Database::Access::write, 0).run("UPDATE frame SET " + sql);
    }
    log::NumberedFrames byOne() const {
        auto book = open();
        return log::readFrames(book, {}, 1);
    }
    log::NumberedFrames bySeveral() const {
        auto book = open();
        return log::readFrames(
            book, [this] { return open(); }, 1);
    }

    /// The frames handed on, not kept: what there is of each.
    log::NumberedFrames byPassing() const {
        auto book = open();
        log::NumberedFrames passed;
        std::vector<std::int64_t> numbers;
        passed.runs = log::passFrames(
            book, [this] { return open(); }, 1,
            [&](std::int64_t number, const cut::CutFrame& frame) {
                numbers.push_back(number);
                passed.frames.push_back(frame);
            });
        std::size_t i = 0;
        for (const auto& run : passed.runs)
            for (auto number = run.first; number <= run.last; ++number)
                CHECK(numbers.at(i++) == number);
        CHECK(numbers.size() == i);
        return passed;
    }

private:
    log::Database open() const { return {path, log::Database::Access::read, 0}; }

    TestFolder folder;
    std::string path = folder / "book.headland";
};

std::vector<std::pair<std::int64_t, std::int64_t>> runsOf(const log::NumberedFrames& read) {
    std::vector<std::pair<std::int64_t, std::int64_t>> runs;
    for (const auto& run : read.runs)
        runs.emplace_back(run.first, run.last);
    return runs;
}

using Numbers = std::vector<std::int64_t>;
using Runs = std::vector<std::pair<std::int64_t, std::int64_t>>;

} // namespace

TEST_CASE("Frames that several threads have read are one list, its runs joined where they meet") {
    for (const auto& [numbers, runs] :
         {std::pair{Numbers{0, 1, border - 1, border, border + 1, lastNumber},
                    Runs{{0, 1}, {border - 1, border + 1}, {lastNumber, lastNumber}}},
          std::pair{
              Numbers{0, border - 1, border + 1, lastNumber - 1, lastNumber},
              Runs{{0, 0}, {border - 1, border - 1}, {border + 1, border + 1}, {lastNumber - 1, lastNumber}}},
          std::pair{Numbers{border - 1, lastNumber}, // far too few for more than one
                    Runs{{border - 1, border - 1}, {lastNumber, lastNumber}}}}) {
        const SparseBook book(numbers);
        const auto one = book.byOne(), several = book.bySeveral(), passed = book.byPassing();
        CHECK((runsOf(one) == runs));
        CHECK((runsOf(several) == runs));
        CHECK((runsOf(passed) == runs));
        REQUIRE(several.frames.size() == numbers.size());
        CHECK((csvOf(several.frames) == csvOf(one.frames)));
        CHECK(passed.frames.back().landMin_um == one.frames.back().landMin_um);
        CHECK(several.frames.back().time_s
              == Approx(madeUpFrame(lastNumber, madeUpHead().settings).time_s).margin(1e-6));
    }
}

TEST_CASE("Frames whose time or turn goes back are refused, also from one thread's part to the next") {
    for (const auto& [earlier, later] : {std::pair{border - 1, border}, std::pair{border, border + 1}})
        for (const std::string column : {"time_s_e6", "turn_e6"}) {
            INFO(column << " of frame " << later);
            const SparseBook book({0, border - 1, border, border + 1, lastNumber});
            const auto set = [&, &earlier = earlier, &later = later](const std::string& to) {
                book.change(column + " = (SELECT " + column + to + " FROM frame WHERE number = "
                            + std::to_string(earlier) + ") WHERE number = " + std::to_string(later));
            };
            set("");
            CHECK(book.byOne().frames.size() == 5); // a lathe may stand still
            CHECK(book.bySeveral().frames.size() == 5);
            CHECK(book.byPassing().frames.size() == 5);
            set(" - 1");
            CHECK_THROWS_WITH(book.byOne(), "frames out of their order");
            CHECK_THROWS_WITH(book.bySeveral(), "frames out of their order");
            CHECK_THROWS_WITH(book.byPassing(), "frames out of their order");
        }
}

TEST_CASE("A figure without bounds is no figure, and a frame that is nowhere is refused") {
    for (const std::string figure : {"9e999", "-9e999"}) {
        const SparseBook book({0, 1});
        book.change("pitch_um_e4 = " + figure + ", curvature_min_um_e4 = " + figure
                    + ", peak_dbfs_e3 = " + figure);
        const auto read = book.byOne();
        CHECK(std::isnan(read.frames.front().pitch_um));
        CHECK(read.frames.front().curvatureMin_um == std::numeric_limits<double>::infinity());
        CHECK(read.frames.front().peak_dbfs == -std::numeric_limits<double>::infinity());
        CHECK(read.frames.others() == 0);
        for (const std::string place : {"time_s_e6", "turn_e6", "radius_mm_e6"}) {
            const SparseBook nowhere({0, 1});
            nowhere.change(place + " = " + figure);
            CHECK_THROWS_WITH(nowhere.byOne(), "a frame at a place that no side has");
            CHECK_THROWS_WITH(nowhere.byPassing(), "a frame at a place that no side has");
        }
    }
}

TEST_CASE(
    "A frame whose number is none is refused wherever it lies: between two blocks, before and behind all") {
    for (const std::string number : {"16383.5", "-0.5", "40000.5", "'all of them'", "x'00'"}) {
        INFO(number);
        const SparseBook book({0, border - 1, border, border + 1, lastNumber});
        book.change("number = " + number + " WHERE number = " + std::to_string(border + 1));
        CHECK_THROWS_AS(book.byOne(), log::DamagedRow);
        CHECK_THROWS_AS(book.bySeveral(), log::DamagedRow);
        CHECK_THROWS_AS(book.byPassing(), log::DamagedRow);
    }
}

TEST_CASE("Frames that are handed on are refused for what is read of them, like those that are kept") {
    for (const std::string change : {"state = 17", "state = 'lead-in'", "flags = 0.5", "length_known = 'yes'",
                                     "pitch_um_e4 = 'wide'", "depth_peak_um_e4 = x'00'"}) {
        INFO(change);
        const SparseBook book({0, border - 1, border, border + 1, lastNumber});
        book.change(change + " WHERE number = " + std::to_string(border));
        std::string kept;
        try {
            book.bySeveral();
        } catch (const log::DamagedRow& row) {
            kept = row.what();
        }
        CHECK_FALSE(kept.empty());
        CHECK_THROWS_WITH(book.byPassing(), kept);
    }
}

TEST_CASE("Frames far apart are found, however long the way between them") {
    const SparseBook book({0, 5, 6, 7});
    book.change("number = number + " + std::to_string(log::numberMost - 7) + " WHERE number > 5");
    for (const auto& read : {book.byOne(), book.bySeveral(), book.byPassing()}) {
        REQUIRE(read.frames.size() == 4);
        CHECK((runsOf(read) == Runs{{0, 0}, {5, 5}, {log::numberMost - 1, log::numberMost}}));
    }
}
