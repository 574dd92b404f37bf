// SPDX-License-Identifier: GPL-3.0-or-later
// Where cuts are logged: the book, the job and the side; a mark and a note while the stylus is down, and what was marked or
// noted last. A note has the time at which its field was opened. Main thread.
#pragma once

#include "Editor/Access.h"
#include "Editor/TextField.h"

namespace headland::editor {

class LogPanel final : public juce::Component, public Typing, public juce::SettableTooltipClient {
public:
    /// `prepare` is given everything that is typed into, once, to listen to it; what is told of the panel itself is about
    /// book, marks and notes.
    LogPanel(Access& access, const std::function<void(Typing&)>& prepare);

    void show(const Glimpse& glimpse);
    /// Marks or opens a note if it is the key for that. False: it is not.
    bool press(const juce::KeyPress& key);

    const std::string& place() const noexcept { return placeLine; }
    const std::string& last() const noexcept { return lastLine; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void chooseBook();
    void mark();
    void openNote();
    void takeNote();
    void closeNote();

    Access& access;
    log::SideName chosen; ///< before the fields, which read it
    std::unique_ptr<juce::FileChooser> chooser;
    juce::TextButton book{"Book..."}, markButton, noteButton;
    TextField job, side;
    juce::TextEditor note; ///< instead of both while it is open
    NotePlace notePlace;
    std::string placeLine, lastLine, noteLine;
};

} // namespace headland::editor
