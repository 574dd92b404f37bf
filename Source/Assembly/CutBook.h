// SPDX-License-Identifier: GPL-3.0-or-later
// Told of every cut: logs it into the folder that was chosen, if one was, and keeps its summary for the window. A folder
// chosen during a cut is for the next one.
// Threads: as a Journal the service thread's; the rest for the main thread. A lock that the audio thread never sees.
#pragma once

#include "Cut/CutSummary.h"
#include "Plugin/FolderJournal.h"

#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace headland::assembly {

class CutBook final : public plugin::Journal {
public:
    void begin(const plugin::LiveSetup& setup) override;
    void frame(const cut::CutFrame& frame) override;
    void end(handoff::CutEnd reason, std::uint64_t framesLost) override;
    std::string trouble() const override;

    /// Empty: no log.
    void logInto(const std::string& wanted);
    std::string folder() const;

    /// Of the cut under way or of the last one.
    cut::CutSummary summary() const;
    /// How the last cut ended; nothing when none has.
    std::optional<handoff::CutEnd> lastEnd() const;

private:
    mutable std::mutex lock; // everything below
    std::string folder_;
    std::unique_ptr<plugin::FolderJournal> log;
    std::optional<cut::SummaryBuilder> builder;
    std::optional<handoff::CutEnd> end_;
};

} // namespace headland::assembly
