// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/FrameReading.h"

#include "Log/FrameBlock.h"
#include "Text/Times.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <future>
#include <numeric>
#include <optional>
#include <string>
#include <thread>
#include <vector>

namespace headland::log {

namespace {

constexpr unsigned threadsMost = 4;
constexpr std::int64_t rowsForThread = 20'000; ///< fewer are not worth one
constexpr double turnsMost = 1e6, radiusMost_mm = 1e4;
constexpr std::size_t othersMost =
    1 << 20;                   ///< figures that are no whole number: a frame or two of a side have some
constexpr int firstFigure = 4; ///< after number, state, flags and length_known

/// How many numbers are read at once: a FrameList takes such a block over without copying, unless frames are missing in it.
constexpr std::int64_t blockLength = 1 << 12;
/// A side of whole blocks has no more of them.
constexpr std::int64_t blocksMost = static_cast<std::int64_t>(framesMost) / blockLength + 1;

constexpr auto tooMany = "more frames than a side can have";
constexpr auto tooOdd = "more figures beyond all measure than a cut can have";
constexpr auto noWholeNumber = "a frame whose number, state or flags are no whole number";
constexpr auto outOfOrder = "frames out of their order";

/// Columns to be read, as their indices, in order.
using Columns = std::vector<std::size_t>;

/// All that a book of this version has.
Columns allColumns(std::int64_t version) {
    Columns all(bookColumns(version));
    std::iota(all.begin(), all.end(), std::size_t{0});
    return all;
}

/// Those of them that a summary is made of (cut::SummaryBuilder), but for what is used and left of the disc at the end.
Columns summedColumns(std::int64_t version) {
    static constexpr std::array summed{
        columnNamed("time_s"),       columnNamed("turn"),         columnNamed("radius_mm"),
        columnNamed("pitch_um"),     columnNamed("depth_um"),     columnNamed("land_min_um"),
        columnNamed("width_min_um"), columnNamed("slope_peak"),   columnNamed("curvature_min_um"),
        columnNamed("demand_um"),    columnNamed("shortfall_um"), columnNamed("peak_dbfs"),
        columnNamed("left_mm"),      columnNamed("depth_peak_um")};
    Columns columns;
    for (const auto column : summed)
        if (column < bookColumns(version))
            columns.push_back(column);
    return columns;
}

/// As SQL has them.
std::string namesOf(const Columns& columns) {
    std::string names = "number, state, flags, length_known";
    for (const auto column : columns)
        names += ", " + storedName(frameColumns[column]);
    return names;
}

/// Frames as a FrameList or a FrameBlock, in the order of their numbers.
template <typename Frames>
struct Numbered {
    Frames frames;
    FrameRuns runs;

    void clear() {
        frames.clear();
        runs.clear();
    }
};

/// What there is to be read, and what all threads know of it.
struct Source {
    std::int64_t cut;
    Columns columns;
    std::size_t most;
    std::atomic<std::size_t> beyond{0}; ///< rows that come after a block's length of them, in all blocks
};

/// Takes the rows of one block.
template <typename Frames>
class Taker final : public RowTaker {
public:
    Taker(Source& readFrom, Numbered<Frames>& into) : source(readFrom), taken(into) { taken.clear(); }

    void row(const HandedRow& row) override {
        if (taken.frames.size() >= blockLength && ++source.beyond > source.most)
            throw DamagedRow(tooMany);
        takeNumber(whole(row, 0));
        const auto state = static_cast<cut::State>(std::clamp<std::int64_t>(whole(row, 1), 0, 255));
        if (name(state).empty())
            throw DamagedRow("a frame of a state there is not");
        taken.frames.addBlank(state, static_cast<std::uint16_t>(whole(row, 2)),
                              static_cast<disc::EstimateGrade>(std::clamp<std::int64_t>(
                                  whole(row, 3), 0, static_cast<int>(disc::EstimateGrade::rehearsed))));
        auto place = firstFigure;
        for (const auto column : source.columns)
            takeFigure(column, row.number(place++));
        checkPlace();
    }

private:
    static std::int64_t whole(const HandedRow& row, int column) {
        const auto stored = row.number(column);
        if (stored.kind != Number::Kind::whole)
            throw DamagedRow(noWholeNumber);
        return stored.whole;
    }

    void takeNumber(std::int64_t number) {
        if (!taken.runs.empty() && number <= taken.runs.back().last)
            throw DamagedRow(outOfOrder);
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
            throw DamagedRow(tooOdd);
    }

    /// Everything that is made of frames goes by where they are.
    void checkPlace() {
        const auto at = taken.frames.size() - 1;
        const auto time_s = taken.frames.time_s(at), turn = taken.frames.turn(at);
        if (std::isnan(text::inProgram(time_s)) || !(turn >= 0 && turn <= turnsMost)
            || !(std::abs(taken.frames.radius_mm(at)) <= radiusMost_mm))
            throw DamagedRow("a frame at a place that no side has");
        if (at > 0 && (time_s < taken.frames.time_s(at - 1) || turn < taken.frames.turn(at - 1)))
            throw DamagedRow(outOfOrder);
    }

    Source& source;
    Numbered<Frames>& taken;
};

struct Range {
    std::int64_t first, last;
};

template <typename Frames>
void readRange(Database& book, Source& source, Range range, Numbered<Frames>& into) {
    Taker<Frames> taker(source, into);
    // Also what lies between whole numbers is found, to be refused.
    book.eachRow(namesOf(source.columns), "FROM frame WHERE cut_id = ? AND number >= ? AND number < ?",
                 std::array{source.cut, range.first, range.last + 1}, taker);
}

/// The first and the last number; nothing where there is no frame.
std::optional<Range> numbersOf(Database& book, std::int64_t cut) {
    auto ends = book.prepare("SELECT (SELECT min(number) FROM frame WHERE cut_id = ?1), "
                             "(SELECT max(number) FROM frame WHERE cut_id = ?1)");
    if (!ends.with(cut).step() || ends.isNull(0))
        return std::nullopt;
    for (const auto end : {0, 1})
        if (ends.number(end).kind != Number::Kind::whole)
            throw DamagedRow(noWholeNumber);
    const Range range{ends.integer(0), ends.integer(1)};
    if (range.first < 0 || range.last > numberMost)
        throw DamagedRow("a frame of a number that no cut comes to");
    return range;
}

/// The numbers there are, a block each; where they are far apart the blocks are longer.
std::vector<Range> blocksOf(Range all) {
    const auto count = all.last - all.first + 1;
    const auto length = std::max(blockLength, (count + blocksMost - 1) / blocksMost);
    std::vector<Range> ranges;
    for (auto first = all.first; first <= all.last; first += length)
        ranges.push_back({first, std::min(first + length - 1, all.last)});
    return ranges;
}

/// One more than the machine has processors: while one hands its block on, the others read.
std::size_t threadsFor(std::int64_t frames) {
    const auto most = std::clamp(std::thread::hardware_concurrency() + 1, 1u, threadsMost);
    return static_cast<std::size_t>(std::clamp<std::int64_t>(frames / rowsForThread, 1, most));
}

/// What has been read of a cut, block after block.
class Sequence {
public:
    explicit Sequence(std::size_t most) : rowsMost(most) {}

    template <typename Frames>
    void add(const Numbered<Frames>& more) {
        if (more.runs.empty())
            return;
        if (!runs.empty() && (more.frames.time_s(0) < time_s || more.frames.turn(0) < turn))
            throw DamagedRow(outOfOrder);
        const auto last = more.frames.size() - 1;
        time_s = more.frames.time_s(last);
        turn = more.frames.turn(last);
        rows += more.frames.size();
        if (rows > rowsMost)
            throw DamagedRow(tooMany);
        others += more.frames.others();
        if (others > othersMost)
            throw DamagedRow(tooOdd);
        auto run = more.runs.begin();
        if (!runs.empty() && run->first == runs.back().last + 1)
            runs.back().last = (run++)->last;
        runs.insert(runs.end(), run, more.runs.end());
    }

    FrameRuns runs;

private:
    std::size_t rowsMost, rows = 0, others = 0;
    double time_s = 0, turn = 0; ///< of the last frame
};

/// Reads the cut by several threads, block by block, and hands every block to `take`, in order.
template <typename Frames, typename Take>
FrameRuns readBlocks(Database& book, const std::function<Database()>& another, Source& source, Take take) {
    const auto all = numbersOf(book, source.cut);
    if (!all)
        return {};
    const auto blocks = blocksOf(*all);
    const auto threads = another ? threadsFor(all->last - all->first + 1) : 1;
    std::vector<std::optional<Database>> own(threads); // the first thread, this one, has `book`
    std::vector<Numbered<Frames>> room(2 * threads);   // one of a thread's is filled while the other is taken
    std::vector<std::future<void>> ahead(threads);
    const auto start = [&](std::size_t block) {
        const auto thread = block % threads;
        if (thread != 0 && block < blocks.size())
            ahead[thread] = std::async(std::launch::async, [&, thread, block] {
                if (!own[thread])
                    own[thread].emplace(another());
                readRange(*own[thread], source, blocks[block], room[block % room.size()]);
            });
    };
    for (std::size_t block = 0; block < threads; ++block)
        start(block);
    Sequence sequence(source.most);
    for (std::size_t block = 0; block < blocks.size(); ++block) {
        auto& read = room[block % room.size()];
        if (block % threads == 0)
            readRange(book, source, blocks[block], read);
        else
            ahead[block % threads].get();
        start(block + threads);
        sequence.add(read);
        take(read);
    }
    return std::move(sequence.runs);
}

/// Asked each time: another program may have brought the book up to date since it was opened.
std::int64_t versionOf(Database& book) {
    return book.number("PRAGMA user_version");
}

} // namespace

NumberedFrames readFrames(Database& book, const std::function<Database()>& another, std::int64_t cut,
                          std::size_t most) {
    Source source{cut, allColumns(versionOf(book)), most};
    FrameList frames;
    auto runs = readBlocks<FrameList>(
        book, another, source, [&](Numbered<FrameList>& block) { frames.append(std::move(block.frames)); });
    return {std::move(frames), std::move(runs)};
}

FrameRuns passFrames(Database& book, const std::function<Database()>& another, std::int64_t cut,
                     const FramePass& pass) {
    Source source{cut, summedColumns(versionOf(book)), framesMost};
    return readBlocks<FrameBlock>(book, another, source, [&](const Numbered<FrameBlock>& block) {
        std::size_t i = 0;
        for (const auto& run : block.runs)
            for (auto number = run.first; number <= run.last; ++number)
                pass(number, block.frames[i++]);
    });
}

cut::CutFrame readFrame(Database& book, std::int64_t cut, std::int64_t number) {
    Source source{cut, allColumns(versionOf(book)), framesMost};
    Numbered<FrameBlock> read;
    readRange(book, source, {number, number}, read);
    if (read.runs.empty())
        throw DamagedRow("not the frame that it has");
    return read.frames[0];
}

} // namespace headland::log
