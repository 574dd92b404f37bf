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
    bool wantsEdges() const override { return !chosen.path.empty(); }
    void edges(const cut::EdgeRun& run) override;
    void event(const handoff::CutEvent& event) override;
    void note(const log::NoteRecord& note) override;
    void end(handoff::CutEnd reason, std::int64_t frames) override;
    std::string trouble() const override;
    /// Something of a cut is not in its book yet.
    bool isWaiting() const;

    const BookChoice& choice() const noexcept { return chosen; }
    /// Number of the latest cut in the book; 0: none is there yet.
    std::int64_t cut() const { return writer ? writer->status().cut : 0; }

private:
    void open();

    std::string madeBy;
    BookChoice chosen;
    std::unique_ptr<log::BookWriter> writer;
    std::vector<std::unique_ptr<log::BookWriter>>
        leaving;                              ///< books given up that have not taken everything yet
    std::optional<log::CutRecorder> recorder; ///< while a cut is under way
};

} // namespace headland::plugin
