// SPDX-License-Identifier: GPL-3.0-or-later
// What is to be written is copied out under the lock, written without it, and ticked off under it again: nobody who tells
// the writer something waits for the disk.
#include "Log/BookWriter.h"

#include "Log/BookPages.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"
#include "Log/CutInMemory.h"
#include "Text/Times.h"

#include <algorithm>
#include <condition_variable>
#include <filesystem>
#include <list>
#include <mutex>
#include <thread>

namespace headland::log {

namespace {

using Clock = std::chrono::steady_clock;

constexpr std::size_t batchMax = 4096;              ///< frames in one transaction
constexpr std::chrono::milliseconds patience{2000}; ///< with another program's lock, until it is said
constexpr std::chrono::milliseconds retryPause{500};
constexpr double slow_s = 3; ///< without a word from the disk, until that is said
constexpr auto orphaned = " does not hold the last cut any more: what was noted after that cut is not kept.";
constexpr auto waitsForDisk =
    " waits for its disk, which is slow or does not answer; see to it, or choose another place.";
constexpr auto movedAway =
    "the book was removed or replaced while this cut was being written; begun anew here";

std::string absolute(const std::string& path) {
    std::error_code error;
    const auto whole = std::filesystem::absolute(path, error);
    return error ? path : whole.string();
}

/// What one transaction takes over of one cut.
struct Batch {
    CutHead head;
    std::string begun_utc;
    std::int64_t cut = 0;
    std::vector<CutInMemory::NumberedFrame> frames;
    std::vector<CutEventRecord> events;
    std::size_t firstEvent = 0;
    std::vector<NoteRecord> notes;
    std::vector<GapRecord> gaps;
    std::map<int, PlaceRecord> places;
    std::map<int, std::int64_t> placesWaiting; ///< of which change they are
    std::map<int, std::int64_t> placesWritten;
    std::string written_utc;     ///< by it the book shows whether it holds this batch or the one before
    std::optional<CutTail> tail; ///< when this batch holds all that is left
};

template <typename List>
auto waitingOf(const Written<List>& list) {
    return std::vector(list.items.begin() + static_cast<std::ptrdiff_t>(list.written), list.items.end());
}

Batch batchOf(const CutInMemory& memory) {
    Batch batch{memory.head,
                memory.begun_utc,
                memory.cut,
                {},
                waitingOf(memory.events),
                memory.events.written,
                waitingOf(memory.notes),
                waitingOf(memory.gaps),
                {},
                memory.placesWaiting,
                memory.placesWritten,
                {},
                std::nullopt};
    const auto count = std::min(batchMax, memory.frames.waiting());
    const auto first = memory.frames.items.begin() + static_cast<std::ptrdiff_t>(memory.frames.written);
    batch.frames.assign(first, first + static_cast<std::ptrdiff_t>(count));
    for (const auto& [number, change] : memory.placesWaiting)
        batch.places[number] = memory.places.at(number);
    if (count == memory.frames.waiting()) {
        if (!memory.endWritten)
            batch.tail = memory.tail;
    } else // the book must not say more than it has: a gap comes with the frame after it
        std::erase_if(batch.gaps,
                      [&](const GapRecord& gap) { return gap.firstFrame > batch.frames.back().number; });
    return batch;
}

/// Writes it in one transaction, and fills in the numbers it was given.
void write(BookPages& pages, Batch& batch) {
    Transaction transaction(pages.database());
    if (batch.cut == 0)
        batch.cut = pages.beginCut(batch.head, batch.begun_utc);
    for (const auto& [number, frame] : batch.frames)
        pages.frame(batch.cut, number, frame);
    auto number = static_cast<std::int64_t>(batch.firstEvent);
    for (const auto& event : batch.events)
        pages.event(batch.cut, number++, event);
    for (const auto& note : batch.notes)
        pages.note(batch.cut, note);
    for (const auto& gap : batch.gaps)
        pages.gap(batch.cut, gap);
    for (const auto& [key, place] : batch.places) {
        auto& written = batch.placesWritten[key];
        if (written != 0)
            pages.removePlace(written);
        written = pages.place(batch.cut, place);
    }
    pages.written(batch.cut, batch.written_utc);
    if (batch.tail)
        pages.endCut(batch.cut, *batch.tail);
    transaction.commit();
}

void tickOff(CutInMemory& memory, const Batch& batch) {
    memory.cut = batch.cut;
    memory.frames.written += batch.frames.size();
    memory.events.written += batch.events.size();
    memory.notes.written += batch.notes.size();
    memory.gaps.written += batch.gaps.size();
    memory.placesWritten = batch.placesWritten;
    std::erase_if(memory.placesWaiting, [&](const auto& waiting) { // unless told anew meanwhile
        const auto taken = batch.placesWaiting.find(waiting.first);
        return taken != batch.placesWaiting.end() && taken->second == waiting.second;
    });
    memory.endWritten |= batch.tail.has_value();
}

} // namespace

class BookWriter::Work {
public:
    Work(std::string bookPath, Options bookOptions)
        : path(std::move(bookPath)), place(absolute(path)), options(bookOptions), thread([this] { run(); }) {}

    ~Work() {
        {
            const std::lock_guard held(lock);
            isEnding = true;
        }
        wake.notify_all();
        thread.join();
    }

    void begin(const CutHead& head) {
        const std::lock_guard held(lock);
        if (!cuts.empty())
            cuts.back().breakOff();
        cuts.emplace_back(head, utcNow());
        beginWaiting();
    }

    void frame(const cut::CutFrame& frame, std::int64_t number) {
        const std::lock_guard held(lock);
        if (cuts.empty() || cuts.back().tail)
            return;
        auto& memory = cuts.back();
        if (framesHeld >= options.framesMax && !makeRoom())
            return memory.refuse(frame, number);
        memory.take(frame, number);
        ++framesHeld;
        beginWaiting();
        if (memory.frames.waiting() == batchMax) // once: a book in trouble is not to be tried at every frame
            wake.notify_all();
    }

    /// Changes the cut under way, or the last one.
    template <typename Change>
    void change(Change change) {
        {
            const std::lock_guard held(lock);
            if (!cuts.empty()) {
                change(cuts.back());
                beginWaiting();
            }
        }
        wake.notify_all();
    }

    BookStatus status() const {
        const std::lock_guard held(lock);
        BookStatus status;
        for (const auto& memory : cuts) {
            status.framesWaiting += memory.frames.waiting();
            status.cut = memory.cut;
            status.framesMissing = memory.missing();
        }
        status.isWhole = !hasWork();
        status.waiting_s = status.framesWaiting > 0 ? sinceWaiting_s() : 0;
        status.cause = trouble;
        if (trouble.empty() && status.waiting_s > slow_s)
            status.cause = bookPlace(path) + waitsForDisk;
        status.trouble = status.cause;
        if (!status.trouble.empty() && status.framesWaiting > 0)
            status.trouble += waitingSentence(status);
        return status;
    }

    bool opened(std::chrono::milliseconds atMost) {
        std::unique_lock held(lock);
        return done.wait_for(held, atMost, [this] { return hasTried; });
    }

    bool flush(std::chrono::milliseconds atMost) {
        std::unique_lock held(lock);
        isUrgent = true;
        wake.notify_all();
        const auto until = Clock::now() + atMost;
        while (hasWork() && Clock::now() < until)
            done.wait_until(held, std::min(until, Clock::now() + options.period));
        isUrgent = false;
        return !hasWork();
    }

    const std::string path;

private:
    void run() {
        std::unique_lock held(lock);
        while (!isEnding) {
            held.unlock();
            const auto isWell = step();
            held.lock();
            hasTried = true;
            done.notify_all();
            if (isEnding)
                break;
            if (isWell && (isUrgent || isFull()) && hasWork())
                continue;
            wake.wait_for(held, isWell ? options.period : std::max(retryPause, options.period));
        }
        if (!cuts.empty())
            cuts.back().breakOff();
        held.unlock();
        step();
    }

    /// Writes all that waits, batch by batch; false when it cannot be written now.
    bool step() {
        try {
            if (pages && !pages->isInPlace())
                lose();
            if (!pages)
                open();
            while (writeOne()) {
            }
            settle(hasOrphan() ? bookPlace(path) + orphaned : std::string());
            return true;
        } catch (const DatabaseError& error) {
            settle(isLock(error) && !isPatienceOver() ? std::string() : writingTrouble(path, error));
            if (endsConnection(error))
                pages.reset();
            else if (pages)
                doubt.reset(); // a connection that goes on has undone it
        } catch (const BookRefused& refusal) {
            settle(bookPlace(path) + " cannot be written into: " + refusal.what());
            pages.reset();
        }
        return false;
    }

    void open() {
        auto opened = std::make_unique<BookPages>(place);
        settleDoubt(*opened);
        // What an earlier connection wrote is there, unless this is another file.
        std::vector<CutInMemory*> strangers;
        for (auto* memory : begunCuts())
            if (!opened->holds(memory->cut, memory->begun_utc))
                strangers.push_back(memory);
        pages = std::move(opened);
        startAnew(strangers);
    }

    /// A commit that failed may have come to the disk all the same: then it must not be written twice.
    void settleDoubt(BookPages& opened) {
        if (!doubt)
            return;
        const auto& batch = doubt->batch;
        if (batch.cut != 0 && opened.holds(batch.cut, batch.begun_utc, batch.written_utc)) {
            const std::lock_guard held(lock);
            tickOff(*doubt->memory, batch);
        }
        doubt.reset();
    }

    /// The file is not in its place any more: whatever is in memory goes into a new one.
    void lose() {
        pages.reset();
        doubt.reset();
        startAnew(begunCuts());
    }

    /// Those that are in a book. They stay where they are until this thread releases them.
    std::vector<CutInMemory*> begunCuts() {
        const std::lock_guard held(lock);
        std::vector<CutInMemory*> begun;
        for (auto& memory : cuts)
            if (memory.cut != 0)
                begun.push_back(&memory);
        return begun;
    }

    void startAnew(const std::vector<CutInMemory*>& lost) {
        const std::lock_guard held(lock);
        for (auto* memory : lost)
            memory->startAnew(movedAway);
        if (hasWork())
            beginWaiting();
    }

    /// Writes a batch of the first cut that has something to write; false when there is none.
    bool writeOne() {
        std::unique_lock held(lock);
        const auto memory =
            std::find_if(cuts.begin(), cuts.end(), [](const auto& candidate) { return candidate.hasWork(); });
        if (memory == cuts.end())
            return false;
        doubt.emplace(Doubt{batchOf(*memory), &*memory});
        held.unlock();
        doubt->batch.written_utc = nextStamp();
        write(*pages, doubt->batch);
        if (!pages->isInPlace()) { // it went where nobody finds it
            lose();
            open();
            return true;
        }
        std::vector<std::deque<CutInMemory::NumberedFrame>> released; // outlives the lock
        held.lock();
        tickOff(*memory, doubt->batch);
        doubt.reset();
        trouble.clear();
        waitingSince = hasWork() ? Clock::now() : Clock::time_point::max();
        releaseDone(released);
        held.unlock();
        return true;
    }

    /// Now, but never the same twice.
    std::string nextStamp() {
        auto stamp = utcNow();
        while (stamp == lastStamp) {
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
            stamp = utcNow();
        }
        return lastStamp = stamp;
    }

    /// A cut that is over and in the book needs no memory; the last one stays, for notes that come afterwards.
    void releaseDone(std::vector<std::deque<CutInMemory::NumberedFrame>>& released) {
        for (auto memory = cuts.begin(); memory != cuts.end();) {
            const auto isLast = std::next(memory) == cuts.end();
            if (memory->hasWork() || (isLast && !memory->endWritten)) {
                ++memory;
                continue;
            }
            framesHeld -= memory->frames.items.size();
            released.push_back(memory->forgetAll());
            memory = isLast ? cuts.end() : cuts.erase(memory);
        }
    }

    bool makeRoom() {
        for (auto& memory : cuts)
            if (memory.forgetWritten()) {
                --framesHeld;
                return true;
            }
        return false;
    }

    void settle(const std::string& sentence) {
        const std::lock_guard held(lock);
        trouble = sentence;
        if (!hasWork())
            waitingSince = Clock::time_point::max();
    }

    bool hasWork() const {
        return std::any_of(cuts.begin(), cuts.end(), [](const auto& memory) { return memory.hasWork(); });
    }

    bool hasOrphan() const {
        const std::lock_guard held(lock);
        return std::any_of(cuts.begin(), cuts.end(), [](const auto& memory) { return memory.isOrphaned(); });
    }

    bool isFull() const {
        return std::any_of(cuts.begin(), cuts.end(),
                           [](const auto& memory) { return memory.frames.waiting() >= batchMax; });
    }

    bool isPatienceOver() const {
        const std::lock_guard held(lock);
        return hasWork() && Clock::now() - patience > waitingSince;
    }

    /// Something waits, from now on if nothing did before.
    void beginWaiting() { waitingSince = std::min(waitingSince, Clock::now()); }

    double sinceWaiting_s() const {
        const auto now = Clock::now();
        return waitingSince > now ? 0 : std::chrono::duration<double>(now - waitingSince).count();
    }

    std::string waitingSentence(const BookStatus& status) const {
        const auto& memory = cuts.back();
        const auto length = [&](std::size_t frames) {
            return text::minutesSeconds(static_cast<double>(frames) * memory.head.settings.sector_s());
        };
        const auto waiting = length(status.framesWaiting) + " of it wait in memory";
        if (memory.tail)
            return " The cut has ended: " + waiting + ".";
        const auto room = options.framesMax - std::min(options.framesMax, status.framesWaiting);
        return " The cut goes on: " + waiting + ", which has room for "
               + (room > 0 ? length(room) + " more." : "no more: what comes now is lost.");
    }

    /// A batch that was not ticked off yet.
    struct Doubt {
        Batch batch;
        CutInMemory* memory;
    };

    const std::string place; ///< the same file, from whatever folder the program goes to
    const Options options;
    mutable std::mutex lock; // everything below, as far as it is not the thread's own
    std::condition_variable wake, done;
    std::list<CutInMemory> cuts; ///< in order; the last may be under way
    std::size_t framesHeld = 0;
    std::string trouble;
    Clock::time_point waitingSince = Clock::time_point::max();
    bool hasTried = false, isEnding = false, isUrgent = false;

    std::unique_ptr<BookPages> pages; // the thread's own, as what follows
    std::optional<Doubt> doubt;
    std::string lastStamp;
    std::thread thread; // last: begins when all else is there
};

BookWriter::BookWriter(std::string path, Options options)
    : work(std::make_unique<Work>(std::move(path), options)) {}

BookWriter::~BookWriter() = default;

const std::string& BookWriter::path() const noexcept {
    return work->path;
}

void BookWriter::begin(const CutHead& head) {
    work->begin(head);
}

void BookWriter::frame(const cut::CutFrame& frame, std::int64_t number) {
    work->frame(frame, number);
}

void BookWriter::event(const CutEventRecord& event) {
    work->change([&](CutInMemory& memory) { memory.events.items.push_back(event); });
}

void BookWriter::note(const NoteRecord& note) {
    work->change([&](CutInMemory& memory) { memory.notes.items.push_back(note); });
}

void BookWriter::place(int number, const PlaceRecord& place) {
    work->change([&](CutInMemory& memory) { memory.place(number, place); });
}

void BookWriter::end(const CutTail& tail) {
    work->change([&](CutInMemory& memory) { memory.finish(tail); });
}

BookStatus BookWriter::status() const {
    return work->status();
}

bool BookWriter::opened(std::chrono::milliseconds atMost) {
    return work->opened(atMost);
}

bool BookWriter::flush(std::chrono::milliseconds atMost) {
    return work->flush(atMost);
}

} // namespace headland::log
