// SPDX-License-Identifier: GPL-3.0-or-later
// The book of cuts: where cuts are logged and what was marked, and the cuts of that book or of another to be reviewed. Main
// thread.
#pragma once

#include "Editor/CutList.h"
#include "Editor/LogPanel.h"
#include "Editor/NoticeLine.h"

#include <memory>

namespace headland::editor {

class BookPage final : public juce::Component {
public:
    /// `prepare` is given everything that is typed into; `say` what was refused, or nothing; `review` a book and a cut;
    /// `writeNote` opens a note.
    BookPage(Access& access, Sheets& sheets, const std::function<void(Typing&)>& prepare,
             std::function<void(const std::string&)> say,
             std::function<void(const std::string& book, std::int64_t cut)> review,
             std::function<void()> writeNote);

    void show(const Glimpse& glimpse);
    LogPanel& log() noexcept { return panel; }
    /// Lists the cuts of a book, not necessarily the one that is logged into.
    void open(const std::string& book);
    /// What was done or refused here, in words; nothing: nothing was.
    void tell(const std::string& notice) { told.show(notice); }

    void resized() override;

private:
    void chooseBook();
    void readCuts();

    Access& access;
    Sheets& sheets;
    std::function<void(const std::string&)> onRefused;
    LogPanel panel;
    NoticeLine told;
    CutList list;
    juce::TextButton review{"Review the cut"}, other{"Another book..."};
    std::string path;     ///< of the book that is listed
    bool isOther = false; ///< it was chosen here
    log::SideName ofSide; ///< what the list depends on, as it was when it was read
    std::int64_t cut = -1;
    std::string ending;
};

} // namespace headland::editor
