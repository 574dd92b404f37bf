// SPDX-License-Identifier: GPL-3.0-or-later
// A text that is part of how things are set up: its name above it, below it what it is or why it was refused, where there
// is room. Return and leaving it take it over, Escape gives the typing up. Main thread.
#pragma once

#include "Editor/Typing.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

class TextField final : public juce::Component, public Typing {
public:
    struct Texts {
        const char* id;
        const char* name;
        const char* about;      ///< tooltip
        const char* below = ""; ///< where nothing is refused
    };
    using Read = std::function<std::string()>;
    using Write = std::function<std::string(const std::string&)>; ///< returns why it was refused, or nothing

    TextField(const Texts& texts, Read read, Write write);

    /// Shows the text as it is, unless it is being typed.
    void refresh();
    /// Puts a typed text in, or refuses it.
    void enter(const juce::String& text);
    const std::string& refusal() const noexcept { return refused; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    juce::String value() const;

    Texts texts;
    Read read;
    Write write;
    juce::TextEditor typed;
    std::string refused;
};

} // namespace headland::editor
