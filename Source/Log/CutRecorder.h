// SPDX-License-Identifier: GPL-3.0-or-later
// One cut into a book, as it comes: its frames, and its edges, of which what is needed around flagged places is kept.
// One thread, not the audio thread; nothing here waits for the disk.
#pragma once

#include "Cut/Scrap.h"
#include "Log/BookWriter.h"
#include "Log/EdgeKeeper.h"

namespace headland::log {

class CutRecorder final : public cut::FrameSink {
public:
    /// Begins a cut in the book, which must outlive this.
    CutRecorder(BookWriter& book, const CutHead& head)
        : writer(book),
          keeper(head.settings, head.sampleRate_hz,
                 [this](int number, const PlaceRecord& place) { writer.place(number, place); }),
          builder(head.settings) {
        writer.begin(head);
    }

    CutRecorder(const CutRecorder&) = delete;
    CutRecorder& operator=(const CutRecorder&) = delete;

    /// The next frame.
    void frame(const cut::CutFrame& frame) noexcept override { this->frame(frame, next); }
    /// The frame of this number; those before it that did not come are lost.
    void frame(const cut::CutFrame& frame, std::int64_t number) noexcept {
        writer.frame(frame, number);
        keeper.frame(frame);
        builder.frame(frame);
        next = number + 1;
    }
    bool wantsEdges() const noexcept override { return true; }
    void edges(const cut::EdgeRun& run) noexcept override { keeper.edges(run); }

    /// Frames so far, those that were lost too.
    std::int64_t frames() const noexcept { return next; }
    void event(const CutEventRecord& event) { writer.event(event); }
    /// What became of it is told by the frames.
    void end(CutTail tail) {
        keeper.finish();
        const auto summary = builder.summary();
        tail.isJudged = true;
        tail.scrap = cut::scrap(summary);
        tail.endDiameter_mm = summary.sideLength_s > 0 ? summary.endDiameter_mm : NAN;
        writer.end(tail);
    }

private:
    BookWriter& writer;
    EdgeKeeper keeper;
    cut::SummaryBuilder builder;
    std::int64_t next = 0;
};

} // namespace headland::log
