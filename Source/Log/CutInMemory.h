// SPDX-License-Identifier: GPL-3.0-or-later
// One cut as the writer of a book holds it until it has ended: everything it was told, and how much of that is in the book.
// Where the book is lost, all that is still here goes into the next one. Guarded by the writer's lock.
#pragma once

#include "Log/CutRecord.h"

#include <deque>
#include <map>
#include <optional>

namespace headland::log {

/// A list of which the first `written` are in the book.
template <typename List>
struct Written {
    List items;
    std::size_t written = 0;

    std::size_t waiting() const noexcept { return items.size() - written; }
};

class CutInMemory {
public:
    struct NumberedFrame {
        std::int64_t number;
        cut::CutFrame frame;
    };

    CutInMemory(const CutHead& cutHead, std::string begun) : head(cutHead), begun_utc(std::move(begun)) {}

    /// Takes a frame, and notes what is missing before it.
    void take(const cut::CutFrame& frame, std::int64_t number);
    /// A frame for which there is no room: noted as missing when the next one is taken, or the cut ends or breaks off.
    void refuse(const cut::CutFrame& frame, std::int64_t number) noexcept;
    /// The cut has ended; frames that are missing at its end are noted.
    void finish(const CutTail& cutTail);
    /// Nobody will tell any more of a cut that has no end; frames that were refused last are noted.
    void breakOff();

    /// Gives up the oldest frame that is in the book; false when there is none.
    bool forgetWritten();
    /// Gives up all frames: the cut is over and all of it is in the book. What is given back is for the caller to destroy
    /// where nobody waits for that.
    std::deque<NumberedFrame> forgetAll();
    void place(int number, const PlaceRecord& place);
    /// Frames of this cut that are missing so far.
    std::int64_t missing() const noexcept;
    /// Nothing of it is in a book any more.
    void startAnew(const std::string& why);

    bool hasWork() const noexcept;
    bool isOrphaned() const noexcept; ///< there is a note, and the book that had the cut is gone

    CutHead head;
    std::string begun_utc;
    std::optional<CutTail> tail;
    std::int64_t cut = 0; ///< number in the book; 0: not there yet
    bool endWritten = false;
    Written<std::deque<NumberedFrame>> frames;
    Written<std::vector<CutEventRecord>> events;
    Written<std::vector<NoteRecord>> notes;
    Written<std::vector<GapRecord>> gaps;
    std::map<int, PlaceRecord> places; ///< the latest of each number
    std::map<int, std::int64_t>
        placesWaiting; ///< not in the book as they are here: their number, and of which change
    std::map<int, std::int64_t> placesWritten; ///< their numbers in the book

private:
    /// Something other than frames waits.
    bool hasMore() const noexcept;
    void noteMissing(std::int64_t before, double to_s);

    std::int64_t next = 0;              ///< number of the frame that comes next
    double last_s = NAN;                ///< program time at the end of the last frame
    std::optional<GapRecord> forgotten; ///< frames that are in the book and no longer here
    std::int64_t refusedUpTo = 0;       ///< number after the last frame that was refused
    double refused_s = NAN;             ///< program time at the end of that frame
    std::int64_t placeChanges = 0;
    bool isForgotten = false; ///< all of them
};

} // namespace headland::log
