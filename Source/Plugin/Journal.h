// SPDX-License-Identifier: GPL-3.0-or-later
// Who is told of every cut from its first frame to its end: the log. Service thread; may take its time.
#pragma once

#include "HandOff/LiveEvents.h"
#include "Log/CutRecord.h"
#include "Plugin/LiveCut.h"

#include <string>

namespace headland::plugin {

/// Where cuts are logged.
struct BookChoice {
    std::string path; ///< of the book; empty: no log is kept
    log::SideName side;

    bool operator==(const BookChoice&) const = default;
};

class Journal {
public:
    virtual ~Journal() = default;

    /// From the next cut on.
    virtual void choose(const BookChoice&) {}
    /// `program`: the file that is cut; null where it comes from elsewhere.
    virtual void begin(const LiveSetup& setup, const log::ProgramRecord* program) = 0;
    /// `number`: in the cut, from 0; where it jumps, frames were lost on the way.
    virtual void frame(const cut::CutFrame& frame, std::int64_t number) = 0;
    /// Whether edges() wants to be called.
    virtual bool wantsEdges() const { return false; }
    /// Edges of the cut under way, a frame's before the frame; some may be missing.
    virtual void edges(const cut::EdgeRun&) {}
    /// A cue, what is ridden, a mark.
    virtual void event(const handoff::CutEvent&) {}
    /// Of the cut under way, or of the last one. False: it is not kept, that cut being in no book.
    virtual bool note(const log::NoteRecord&) { return false; }
    /// `frames`: of the whole cut, those that were lost too.
    virtual void end(handoff::CutEnd reason, std::int64_t frames) = 0;
    /// What is wrong with the log, one sentence; empty when nothing is.
    virtual std::string trouble() const = 0;
};

} // namespace headland::plugin
