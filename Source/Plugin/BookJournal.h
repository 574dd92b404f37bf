// SPDX-License-Identifier: GPL-3.0-or-later
// Logs every cut into a book (docs/log): frames, cues, what was ridden, marks and notes, and the groove around flagged
// places. What cannot be written waits, is said, and never stops a cut. Service thread.
#pragma once

#include "Log/CutRecorder.h"
#include "Plugin/Journal.h"

#include <memory>
#include <optional>

namespace headland::plugin {

class BookJournal final : public Journal {
public:
    /// `madeBy`: who cuts, as the book says it.
    explicit BookJournal(std::string madeBy) : madeBy(std::move(madeBy)) {}

    void choose(const BookChoice& wanted) override;
    void begin(const LiveSetup& setup, const log::ProgramRecord* program) override;
    void frame(const cut::CutFrame& frame, std::int64_t number) override;
    bool wantsEdges() const override { return recorder || !chosen.path.empty(); }
    void edges(const cut::EdgeRun& run) override;
    void event(const handoff::CutEvent& event) override;
    bool note(const log::NoteRecord& note) override;
    void end(handoff::CutEnd reason, std::int64_t frames) override;
    std::string trouble() const override;
    /// What of the cuts is not in its book yet, a sentence a book; empty when all is.
    std::string missing() const;

    const BookChoice& choice() const noexcept { return chosen; }
    /// Where the cut under way is logged, or the last one was; no path: it is in no book that is still open.
    const BookChoice& current() const noexcept { return current_; }
    /// Number of that cut in its book; 0: it is not there yet.
    std::int64_t cut() const;

private:
    void open();
    /// The sentences of every book there are any of.
    template <typename Sentence>
    std::string joined(Sentence sentence) const;
    void rehearsal(const handoff::CutEvent& event);
    void rideTo(const handoff::CutEvent& event);

    std::string madeBy;
    BookChoice chosen, current_;
    handoff::Ridden ridden; ///< as it was told last
    std::unique_ptr<log::BookWriter> writer;
    std::vector<std::unique_ptr<log::BookWriter>> leaving; ///< given up, and not everything is in them yet
    std::optional<log::CutRecorder> recorder;              ///< while a cut is under way
};

} // namespace headland::plugin
