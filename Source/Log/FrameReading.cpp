// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/FrameReading.h"

#include "Text/Times.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <future>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <thread>

namespace headland::log {

namespace {

constexpr unsigned threadsMost = 4;
constexpr std::int64_t rowsForThread = 20'000; ///< fewer are not worth one
constexpr double turnsMost = 1e6, radiusMost_mm = 1e4;
constexpr std::size_t othersMost =
    1 << 20;                   ///< figures that are no whole number: a frame or two of a side have some
constexpr int firstFigure = 4; ///< after number, state, flags and length_known

std::string columnsOf(std::size_t count) {
    return "number, state, flags, length_known" + storedNames(count);
}

/// Takes the rows of one thread.
class Taker final : public RowTaker {
public:
    Taker(std::size_t columnCount, std::size_t most, std::atomic<std::size_t>& rowsOfAll)
        : columns(columnCount), rowsMost(most), rows(rowsOfAll) {}

    void row(const HandedRow& row) override {
        if (++rows > rowsMost)
            throw DamagedRow("more frames than a side can have");
        takeNumber(whole(row, 0));
        const auto state = static_cast<cut::State>(std::clamp<std::int64_t>(whole(row, 1), 0, 255));
        if (name(state).empty())
            throw DamagedRow("a frame of a state there is not");
        taken.frames.addBlank(state, static_cast<std::uint16_t>(whole(row, 2)),
                              static_cast<disc::EstimateGrade>(std::clamp<std::int64_t>(
                                  whole(row, 3), 0, static_cast<int>(disc::EstimateGrade::rehearsed))));
        for (std::size_t i = 0; i < columns; ++i)
            takeFigure(i, row.number(firstFigure + static_cast<int>(i)));
        checkPlace();
    }

    NumberedFrames taken;

private:
    static std::int64_t whole(const HandedRow& row, int column) {
        const auto stored = row.number(column);
        if (stored.kind != Number::Kind::whole)
            throw DamagedRow("a frame whose number, state or flags are no whole number");
        return stored.whole;
    }

    void takeNumber(std::int64_t number) {
        if (!taken.runs.empty() && number <= taken.runs.back().last)
            throw DamagedRow("frames out of their order");
        if (taken.runs.empty() || number != taken.runs.back().last + 1)
            taken.runs.push_back({number, number});
        taken.runs.back().last = number;
    }

    void takeFigure(std::size_t column, const Number& stored) {
        if (stored.kind == Number::Kind::whole)
            taken.frames.set(column, stored.whole);
        else if (stored.kind == Number::Kind::real)
            taken.frames.set(column, stored.value);
        else if (stored.kind == Number::Kind::other)
            throw DamagedRow("a figure that is no number");
        if (taken.frames.others() > othersMost)
            throw DamagedRow("more figures beyond all measure than a cut can have");
    }

    /// Everything that is made of frames goes by where they are.
    void checkPlace() {
        const auto at = taken.frames.size() - 1;
        const auto time_s = taken.frames.time_s(at), turn = taken.frames.turn(at);
        if (std::isnan(text::inProgram(time_s)) || !(turn >= 0 && turn <= turnsMost)
            || !(std::abs(taken.frames.radius_mm(at)) <= radiusMost_mm))
            throw DamagedRow("a frame at a place that no side has");
        if (at > 0 && (time_s < taken.frames.time_s(at - 1) || turn < taken.frames.turn(at - 1)))
            throw DamagedRow("frames out of their order");
    }

    std::size_t columns, rowsMost;
    std::atomic<std::size_t>& rows;
};

struct Range {
    std::int64_t first, last;
};

NumberedFrames readRange(Database& book, std::size_t columns, std::int64_t cut, Range range, std::size_t most,
                         std::atomic<std::size_t>& rows) {
    Taker taker(columns, most, rows);
    book.eachRow(columnsOf(columns), "FROM frame WHERE cut_id = ? AND number BETWEEN ? AND ?",
                 std::array{cut, range.first, range.last}, taker);
    return std::move(taker.taken);
}

/// The first and the last number; nothing where there is no frame.
std::optional<Range> numbersOf(Database& book, std::int64_t cut) {
    auto ends = book.prepare("SELECT min(number), max(number) FROM frame WHERE cut_id = ?");
    return ends.with(cut).step() && !ends.isNull(0) ? std::optional(Range{ends.integer(0), ends.integer(1)})
                                                    : std::nullopt;
}

/// The numbers there are, in about as many parts as threads are worth it.
std::vector<Range> rangesOf(Range all) {
    const auto count = all.last - all.first + 1;
    const auto threads = std::clamp(std::thread::hardware_concurrency(), 1u, threadsMost);
    const auto parts = std::clamp<std::int64_t>(count / rowsForThread, 1, threads);
    // A part of such a length is joined as it is, without copying (FrameList::append), unless frames are missing in it.
    constexpr std::int64_t even = 1 << 14;
    const auto length = std::max(count / parts / even * even, even);
    std::vector<Range> ranges;
    for (std::int64_t i = 0; i < parts; ++i)
        ranges.push_back({all.first + i * length, all.first + (i + 1) * length - 1});
    ranges.back().last = all.last;
    return ranges;
}

/// Puts a later part behind an earlier one.
void join(NumberedFrames& all, NumberedFrames&& more) {
    auto run = more.runs.begin();
    if (!all.runs.empty() && run != more.runs.end()) {
        const auto last = all.frames.size() - 1;
        if (more.frames.time_s(0) < all.frames.time_s(last) || more.frames.turn(0) < all.frames.turn(last))
            throw DamagedRow("frames out of their order");
        if (run->first == all.runs.back().last + 1)
            all.runs.back().last = (run++)->last;
    }
    all.runs.insert(all.runs.end(), run, more.runs.end());
    all.frames.append(std::move(more.frames));
}

} // namespace

NumberedFrames readFrames(Database& book, const std::function<Database()>& another, std::int64_t cut,
                          std::size_t most) {
    // Asked each time: another program may have brought the book up to date since it was opened.
    const auto columns = bookColumns(book.number("PRAGMA user_version"));
    const auto whole = numbersOf(book, cut);
    if (!whole)
        return {};
    if (whole->last < whole->first) // numbers that are none come last and count as 0
        throw DamagedRow("a frame whose number, state or flags are no whole number");
    if (whole->first < 0 || whole->last > numberMost)
        throw DamagedRow("a frame of a number that no cut comes to");
    const auto ranges = another ? rangesOf(*whole) : std::vector{*whole};
    std::atomic<std::size_t> rows{0};
    std::vector<std::future<NumberedFrames>> others;
    for (std::size_t i = 1; i < ranges.size(); ++i)
        others.push_back(std::async(std::launch::async, [&, i] {
            auto own = another();
            return readRange(own, columns, cut, ranges[i], most, rows);
        }));
    auto all = readRange(book, columns, cut, ranges.front(), most, rows);
    for (auto& other : others)
        join(all, other.get());
    return all;
}

} // namespace headland::log
