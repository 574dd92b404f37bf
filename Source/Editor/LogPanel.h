// SPDX-License-Identifier: GPL-3.0-or-later
// Where cuts are logged: the book, the job and the side; the buttons for a mark and a note, and what was marked or noted
// last. Main thread.
#pragma once

#include "Editor/Access.h"
#include "Editor/Sheet.h"
#include "Editor/TextField.h"

namespace headland::editor {

class LogPanel final : public juce::Component, public juce::SettableTooltipClient {
public:
    /// `prepare` is given everything that is typed into, once, to listen to it; `say` what was refused of book, marks and
    /// notes, or nothing; `writeNote` opens a note.
    LogPanel(Access& access, Sheets& sheets, const std::function<void(Typing&)>& prepare,
             std::function<void(const std::string&)> say, std::function<void()> writeNote);

    void show(const Glimpse& glimpse);
    /// Marks where the stylus is.
    void mark();
    /// Marks where the stylus was at that moment.
    void markAt(const Glimpse& then);

    const std::string& place() const noexcept { return placeLine; }
    const std::string& last() const noexcept { return lastLine; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void chooseBook();

    Access& access;
    Sheets& sheets;
    std::function<void(const std::string&)> onSaid;
    log::SideName chosen; ///< before the fields, which read it
    juce::TextButton book{"Book..."}, markButton, noteButton;
    TextField job, side;
    std::string placeLine, lastLine;
};

} // namespace headland::editor
