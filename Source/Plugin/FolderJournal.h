// SPDX-License-Identifier: GPL-3.0-or-later
// Logs every cut into a folder: cut-<date>-<time>.csv, the cut log of docs/cut-log-format.md, and beside it .json with the
// set-up, the summary and how the cut ended. The CSV is there when the cut has ended. What cannot be written is said and
// never stops a cut. Service thread.
#pragma once

#include "Cut/CutSummary.h"
#include "Files/OutputFile.h"
#include "Log/CsvWriter.h"
#include "Plugin/Journal.h"

#include <memory>
#include <string>

namespace headland::plugin {

class FolderJournal final : public Journal {
public:
    explicit FolderJournal(std::string folder);
    ~FolderJournal() override;

    void begin(const LiveSetup& setup) override;
    void frame(const cut::CutFrame& frame) override;
    void end(handoff::CutEnd reason, std::uint64_t framesLost) override;
    std::string trouble() const override { return trouble_; }

private:
    struct Sheet; ///< of the cut under way
    template <typename Work>
    void attempt(Work work);

    std::string folder;
    std::unique_ptr<Sheet> sheet;
    std::string trouble_;
};

/// How a cut ended, in words: "lifted", "ended as a fault: the sample rate changed with the stylus down".
std::string describe(handoff::CutEnd reason);

/// Whether nobody wanted the cut to end there.
bool isFault(handoff::CutEnd reason) noexcept;

} // namespace headland::plugin
