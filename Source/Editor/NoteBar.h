// SPDX-License-Identifier: GPL-3.0-or-later
// A line in which a note is written or written anew, on whatever page the window is. Return keeps it, Escape gives it up and
// is the stylus' as well. Main thread.
#pragma once

#include "Editor/LineEditor.h"
#include "Editor/Typing.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <string>

namespace headland::editor {

class NoteBar final : public juce::Component, public Typing {
public:
    /// Takes the words; returns why they are refused, or nothing.
    using Keep = std::function<std::string(const std::string&)>;

    NoteBar();

    /// Shows it. `prompt`: what it is about; `text`: what it says so far.
    void open(const std::string& prompt, const std::string& text, Keep keep);
    bool isOpen() const { return isVisible(); }
    /// What stands before the words: the prompt, or why they were refused.
    const std::string& prompt() const noexcept { return line; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void take();
    void close();

    LineEditor words;
    Keep keep;
    std::string line;
    bool isRefused = false;
};

} // namespace headland::editor
