// SPDX-License-Identifier: GPL-3.0-or-later
// What every field has in which somebody types: its name above it, below it what it is or, in words, why it was refused.
// Return and leaving it take the text over, Escape gives the typing up. What is behind a field may change without a word:
// it looks when told to. Main thread.
#pragma once

#include "Editor/LineEditor.h"
#include "Editor/Typing.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

class TypedField : public juce::Component, public Typing {
public:
    ~TypedField() override;

    /// Shows the value as it is, unless it is being typed.
    void refresh();
    /// Puts a typed text in, or refuses it.
    void enter(const juce::String& text);
    const std::string& refusal() const noexcept { return refused; }

    void paint(juce::Graphics& g) override;
    void resized() override;

protected:
    static constexpr int nameHeight = 18, fieldHeight = 28;

    /// Makes the text editor seen and listens to it.
    void addTyped(float letters);
    /// Makes the letters as small as the text needs to be seen whole.
    void fitTyped();
    /// Shows the value as it is, whatever has been typed.
    void giveUpTyping();

    /// The text as it is behind the field.
    virtual juce::String value() const = 0;
    /// Puts a text in; returns why not, or nothing.
    virtual std::string take(const juce::String& text) = 0;
    virtual juce::String nameAbove() const = 0;
    virtual juce::String below() const = 0;
    /// A refusal as it stands beside the field, and as whoever listens is told it.
    virtual juce::String refusalBeside() const;
    virtual std::string refusalTold() const { return refused; }

    LineEditor typed;

private:
    std::string refused;
    float lettersWanted = 16; ///< px, where the text has room
};

} // namespace headland::editor
