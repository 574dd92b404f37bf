// SPDX-License-Identifier: GPL-3.0-or-later
// The book that a command writes its cuts into. Unlike the other outputs, what has been cut stays in it whatever happens
// afterwards. Main thread; the book is written from a thread of its own.
#pragma once

#include "Console/CheckedInput.h"
#include "Console/Progress.h"
#include "Console/StopSignal.h"
#include "Cut/CutSummary.h"
#include "Files/CutRun.h"
#include "HandOff/LiveEvents.h"
#include "Log/CutRecorder.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace headland::console {

/// What the book is told of a cut of this program before it begins.
log::CutHead headOf(const ProgramRequest& request, const CheckedInput& input, const std::string& command);

/// One cut on its way into a book.
class BookOutput {
public:
    /// Opens the book. Throws OutputError when the book cannot be written into, InputError when the cut it answers is not there,
    /// Stopped when the user does not wait for it any longer.
    BookOutput(const std::string& path, const log::CutHead& head, const StopSignal& stop);

    /// The cut begins, with what it is given of a rehearsal. Takes its frames.
    cut::FrameSink& begin(std::shared_ptr<const plan::Profile> profile);

    /// The cut is over, as it should be or because the disc ended.
    void finish(const files::CutOutcome& outcome, handoff::CutEnd end);
    /// The cut is over before its end; `ending` in words. What can be written in a moment is.
    void breakOff(const std::string& ending, bool isFault);
    /// Waits for the book as long as it gets on, and five seconds more. Why it has not taken the whole cut, one sentence;
    /// empty when it has.
    std::string shortfall(Progress& progress, const StopSignal& stop);

    /// "Logged as cut 3 of side.headland: Lantern Sessions, side A."
    std::string sentence() const;

private:
    log::CutHead head;
    log::BookWriter writer;
    std::optional<log::CutRecorder> recorder; ///< once it has begun
};

/// One trial of a search.
struct SearchTrial {
    std::string varied; ///< key of the setting that was looked for
    cut::CutSettings settings;
    const cut::CutSummary* summary;
};

/// Writes the trials of a search into the book of the request; nothing if there is none. Throws OutputError.
void writeRehearsals(const ProgramRequest& request, const CheckedInput& input, const std::string& command,
                     const std::vector<SearchTrial>& trials);

} // namespace headland::console
