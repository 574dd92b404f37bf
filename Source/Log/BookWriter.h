// SPDX-License-Identifier: GPL-3.0-or-later
// Writes cuts into a book from a thread of its own, four times a second. What cannot be written waits in memory and is
// tried again for as long as it takes; a book that is moved away under it is begun anew, with the cut under way from its
// beginning. Where memory runs out, the book says which frames are missing.
// Threads: its own; all functions for any one other thread at a time, none of them waits for the disk but flush() and the
// destructor. A lock that the audio thread never sees.
#pragma once

#include "Log/CutRecord.h"

#include <chrono>
#include <memory>
#include <string>

namespace headland::log {

/// How a book gets on.
struct BookStatus {
    std::string cause;              ///< what is wrong with the book, one sentence; empty when all is well
    std::string trouble;            ///< the same, with what waits in memory
    std::size_t framesWaiting = 0;  ///< not in the book yet
    double waiting_s = 0;           ///< for how long they have been waiting, at the most
    std::int64_t cut = 0;           ///< number of the latest cut in the book; 0: not written yet
    std::int64_t framesMissing = 0; ///< of the last cut: in no book and not in memory, the gaps say which
    bool isWhole = true;            ///< all that was told is in the book
};

class BookWriter {
public:
    struct Options {
        std::size_t framesMax =
            1 << 20; ///< kept in memory, written or not: some 220 MB, two hours of 256 sectors a turn
        std::chrono::milliseconds period{250};
    };

    /// Opens the book, or makes it, on the thread; nothing is thrown: status() says how that went.
    explicit BookWriter(std::string path, Options options);
    explicit BookWriter(std::string path) : BookWriter(std::move(path), Options()) {}
    /// Tries once more to write what waits. A cut that has no end yet has none in the book either.
    ~BookWriter();

    const std::string& path() const noexcept;

    void begin(const CutHead& head);
    /// `number`: of the frame in the cut, from 0; where it jumps, frames have been lost on the way.
    void frame(const cut::CutFrame& frame, std::int64_t number);
    void event(const CutEventRecord& event);
    /// Of the cut under way, or of the last one.
    void note(const NoteRecord& note);
    /// Takes the place of what was kept under this number.
    void place(int number, const PlaceRecord& place);
    void end(const CutTail& tail);

    BookStatus status() const;
    /// Waits until the book has been opened, or has not, at most that long; whether it is known by then. What is wrong with
    /// it says status().
    bool opened(std::chrono::milliseconds atMost);
    /// Waits until all is in the book, at most that long; whether it is.
    bool flush(std::chrono::milliseconds atMost);

private:
    class Work;
    std::unique_ptr<Work> work;
};

} // namespace headland::log
