// SPDX-License-Identifier: GPL-3.0-or-later
// Told of every cut: logs it into the book that was chosen, if one was, and keeps for the window its summary, how it ended
// and what was marked or noted. A book chosen during a cut is for the next one.
// Threads: as a Journal the service thread's; the rest for the main thread. A lock that the audio thread never sees.
#pragma once

#include "Cut/CutSummary.h"
#include "Editor/Access.h"
#include "Log/CutInView.h"
#include "Plugin/BookJournal.h"

#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace headland::assembly {

class CutBook final : public plugin::Journal {
public:
    /// `madeBy`: who cuts, as the book says it.
    explicit CutBook(std::string madeBy) : log(std::move(madeBy)) {}

    void choose(const plugin::BookChoice& wanted) override;
    void begin(const plugin::LiveSetup& setup, const log::ProgramRecord* program) override;
    void frame(const cut::CutFrame& frame, std::int64_t number) override;
    bool wantsEdges() const override { return true; } // places are kept of what is not logged, too
    void edges(const cut::EdgeRun& run) override;
    void event(const handoff::CutEvent& event) override;
    bool note(const log::NoteRecord& note) override;
    void end(handoff::CutEnd reason, std::int64_t frames) override;
    std::string trouble() const override;

    /// Where cuts go, and what was marked or noted.
    editor::LogState logState() const;
    /// What of the cuts is not in its book yet, in sentences; empty when all is.
    std::string missing() const;
    /// Of the cut under way or of the last one.
    cut::CutSummary summary() const;
    /// The cut under way or the last one, for whoever watches.
    editor::CutNews news(std::uint32_t cut, std::size_t seen) const;
    std::optional<cut::GroovePatch> grooveAtStylus(double halfLength_mm) const;
    std::optional<cut::GroovePatch> grooveKept(double time_s, double within_s) const;
    /// Path of the file of the cut under way or the last one; empty: it came from elsewhere.
    std::string programPath() const;
    /// How the last cut ended; nothing when none has.
    std::optional<handoff::CutEnd> lastEnd() const;

private:
    mutable std::mutex lock; // everything below
    plugin::BookJournal log;
    std::optional<cut::SummaryBuilder> builder;
    std::unique_ptr<log::CutInView>
        inView;             ///< of the cut under way or the last one; null: there has been none
    std::uint32_t cuts = 0; ///< begun
    std::string program;    ///< path of the file of that cut
    std::optional<handoff::CutEnd> end_;
    std::vector<log::LoggedNote> notes; ///< of this cut
    std::uint32_t marksNotKept = 0;     ///< of all cuts
};

} // namespace headland::assembly
