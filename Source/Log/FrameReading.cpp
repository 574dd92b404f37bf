// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/FrameReading.h"

#include "Log/FrameBlock.h"
#include "Text/Times.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <numeric>
#include <optional>
#include <span>
#include <string>
#include <thread>
#include <vector>

namespace headland::log {

namespace {

constexpr unsigned threadsMost = 4;
constexpr std::int64_t rowsForThread = 20'000; ///< fewer are not worth one
constexpr double turnsMost = 1e6, radiusMost_mm = 1e4;
constexpr std::size_t othersMost =
    1 << 20; ///< figures that are no whole number: a frame or two of a side have some
constexpr std::size_t firstFigure = 4; ///< after number, state, flags and length_known

/// How many numbers are read at once: a FrameList takes such a block over without copying, unless frames are missing in it.
constexpr std::int64_t blockLength = 1 << 12;
/// A side of whole blocks has no more of them.
constexpr std::int64_t blocksMost = static_cast<std::int64_t>(framesMost) / blockLength + 1;

constexpr auto tooMany = "more frames than a side can have";
constexpr auto tooOdd = "more figures beyond all measure than a cut can have";
constexpr auto noWholeNumber = "a frame whose number, state or flags are no whole number";
constexpr auto outOfOrder = "frames out of their order";

/// Columns that are read, as their indices, in order: all of them.
template <typename Frames>
constexpr auto columnsOf = [] {
    std::array<std::size_t, frameColumns.size()> all{};
    std::iota(all.begin(), all.end(), std::size_t{0});
    return all;
}();
/// Those that a summary is made of (cut::SummaryBuilder), but for what is used and left of the disc at the end.
template <>
constexpr auto columnsOf<FrameBlock> =
    std::array{columnNamed("time_s"),       columnNamed("turn"),         columnNamed("radius_mm"),
               columnNamed("pitch_um"),     columnNamed("depth_um"),     columnNamed("land_min_um"),
               columnNamed("width_min_um"), columnNamed("slope_peak"),   columnNamed("curvature_min_um"),
               columnNamed("demand_um"),    columnNamed("shortfall_um"), columnNamed("peak_dbfs"),
               columnNamed("left_mm"),      columnNamed("depth_peak_um")};

/// The first so many of them are in a book of this version.
template <typename Frames>
std::size_t columnsIn(std::int64_t version) {
    constexpr auto& columns = columnsOf<Frames>;
    const auto behind = std::lower_bound(columns.begin(), columns.end(), bookColumns(version));
    return static_cast<std::size_t>(behind - columns.begin());
}

/// As SQL has them.
std::string namesOf(std::span<const std::size_t> columns) {
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
    std::size_t columns; ///< how many
    std::size_t most;
    std::atomic<std::size_t> beyond{0}; ///< rows that come after a block's length of them, in all blocks
};

template <std::size_t Column>
void set(FrameList& frames, auto stored) {
    frames.set(Column, stored);
}
template <std::size_t Column>
void set(FrameBlock& frames, auto stored) {
    frames.set<Column>(stored);
}

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
        takeFigures(row, std::make_index_sequence<columnsOf<Frames>.size()>());
        checkPlace();
    }

private:
    static std::int64_t whole(const HandedRow& row, std::size_t column) {
        const auto& stored = row.number(column);
        if (stored.kind != Number::Kind::whole)
            throw DamagedRow(noWholeNumber);
        return stored.whole();
    }

    void takeNumber(std::int64_t number) {
        if (!taken.runs.empty() && number <= taken.runs.back().last)
            throw DamagedRow(outOfOrder);
        if (taken.runs.empty() || number != taken.runs.back().last + 1)
            taken.runs.push_back({number, number});
        taken.runs.back().last = number;
    }

    /// Written out column by column when it is compiled: this is what the reading of a book waits for.
    template <std::size_t... Places>
    void takeFigures(const HandedRow& row, std::index_sequence<Places...>) {
        ((Places < source.columns ? takeFigure<columnsOf<Frames>[Places]>(row.number(firstFigure + Places))
                                  : void()),
         ...);
    }

    template <std::size_t Column>
    void takeFigure(const Number& stored) {
        if (stored.kind == Number::Kind::whole)
            set<Column>(taken.frames, stored.whole());
        else if (stored.kind == Number::Kind::real)
            set<Column>(taken.frames, stored.real());
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
    book.eachRow(namesOf(std::span(columnsOf<Frames>).first(source.columns)),
                 "FROM frame WHERE cut_id = ? AND number >= ? AND number < ?",
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

/// As many as the machine has processors; whoever takes what they have read has little to do.
std::size_t threadsFor(std::int64_t frames) {
    const auto most = std::clamp(std::thread::hardware_concurrency(), 1u, threadsMost);
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

/// Threads that read blocks ahead, each every so many-th with a connection of its own. Two blocks of a thread's wait at the
/// most to be taken.
template <typename Frames>
class ReadAhead {
public:
    ReadAhead(const std::function<Database()>& another, Source& readFrom, std::span<const Range> allBlocks,
              std::size_t count)
        : source(readFrom), blocks(allBlocks), slots(2 * count) {
        for (std::size_t first = 0; first < count; ++first)
            threads.emplace_back([this, &another, first, count] { read(another, first, count); });
    }
    ~ReadAhead() {
        const std::scoped_lock lock(mutex);
        isOver = true;
        changed.notify_all();
    }
    ReadAhead(const ReadAhead&) = delete;
    ReadAhead& operator=(const ReadAhead&) = delete;

    /// Waits for a block and hands it to `take`; throws what reading it has thrown.
    template <typename Take>
    void next(std::size_t block, Take take) {
        auto& slot = slots[block % slots.size()];
        await([&] { return slot.isFull; });
        if (slot.thrown)
            std::rethrow_exception(slot.thrown);
        take(slot.read);
        fill(slot, false);
    }

private:
    struct Slot {
        Numbered<Frames> read;
        std::exception_ptr thrown;
        bool isFull = false;
    };

    /// False: it is over.
    template <typename Condition>
    bool await(Condition condition) {
        std::unique_lock lock(mutex);
        changed.wait(lock, [&] { return isOver || condition(); });
        return !isOver;
    }
    void fill(Slot& slot, bool isFull) {
        const std::scoped_lock lock(mutex);
        slot.isFull = isFull;
        changed.notify_all();
    }

    void read(const std::function<Database()>& another, std::size_t first, std::size_t step) {
        std::optional<Database> book;
        for (auto block = first; block < blocks.size(); block += step) {
            auto& slot = slots[block % slots.size()];
            if (!await([&] { return !slot.isFull; }))
                return;
            try {
                if (!book) {
                    book.emplace(another());
                    book->run("PRAGMA cache_size = 64"); // of its pages: each is read once
                }
                readRange(*book, source, blocks[block], slot.read);
            } catch (...) {
                slot.thrown = std::current_exception();
            }
            fill(slot, true);
            if (slot.thrown)
                return;
        }
    }

    Source& source;
    std::span<const Range> blocks;
    std::vector<Slot> slots;
    std::mutex mutex;
    std::condition_variable changed;
    bool isOver = false;
    std::vector<std::jthread> threads; ///< last: they are joined before anything else goes
};

/// Reads the cut block by block, by several threads where it is worth it, and hands every block to `take`, in order.
template <typename Frames, typename Take>
FrameRuns readBlocks(Database& book, const std::function<Database()>& another, Source& source, Take take) {
    const auto all = numbersOf(book, source.cut);
    if (!all)
        return {};
    const auto blocks = blocksOf(*all);
    const auto threads = another ? threadsFor(all->last - all->first + 1) : 1;
    Sequence sequence(source.most);
    const auto pass = [&](Numbered<Frames>& read) {
        sequence.add(read);
        take(read);
    };
    if (threads > 1) {
        ReadAhead<Frames> ahead(another, source, blocks, threads);
        for (std::size_t block = 0; block < blocks.size(); ++block)
            ahead.next(block, pass);
    } else
        for (Numbered<Frames> read; const auto& block : blocks) {
            readRange(book, source, block, read);
            pass(read);
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
    Source source{cut, columnsIn<FrameList>(versionOf(book)), most};
    FrameList frames;
    auto runs = readBlocks<FrameList>(
        book, another, source, [&](Numbered<FrameList>& block) { frames.append(std::move(block.frames)); });
    return {std::move(frames), std::move(runs)};
}

FrameRuns passFrames(Database& book, const std::function<Database()>& another, std::int64_t cut,
                     const FramePass& pass) {
    Source source{cut, columnsIn<FrameBlock>(versionOf(book)), framesMost};
    return readBlocks<FrameBlock>(book, another, source, [&](const Numbered<FrameBlock>& block) {
        std::size_t i = 0;
        for (const auto& run : block.runs)
            for (auto number = run.first; number <= run.last; ++number)
                pass(number, block.frames[i++]);
    });
}

cut::CutFrame readFrame(Database& book, std::int64_t cut, std::int64_t number) {
    Source source{cut, columnsIn<FrameList>(versionOf(book)), framesMost};
    Numbered<FrameList> read;
    readRange(book, source, {number, number}, read);
    if (read.runs.empty())
        throw DamagedRow("not the frame that it has");
    return read.frames[0];
}

} // namespace headland::log
