// SPDX-License-Identifier: GPL-3.0-or-later
// One parameter to be typed or chosen, with unit and range; what will not do is refused: below it
// stands what would do, and whoever listens gets the whole sentence. Return and
// leaving it take the value over, Escape gives the typing up. What is ridden has two buttons to step it.
// Looks at the parameter when told to: hosts and presets may change it without a word. Main thread.
#pragma once

#include "Editor/Typing.h"
#include "Editor/Words.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

class ValueField final : public juce::Component, public Typing {
public:
    explicit ValueField(const Field& field);
    ~ValueField() override;

    /// Shows the value as it is, unless it is being typed.
    void refresh();
    /// Puts a typed text in; refuses it beside the field.
    void enter(const juce::String& text);

    const Field& field() const noexcept { return shown; }
    juce::String value() const;
    const std::string& refusal() const noexcept { return refused; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    bool isChoice() const noexcept { return choice.getNumItems() > 0; }
    void fillChoice();
    void step(double steps);
    void set(float normalised);
    juce::String subtitle() const;

    Field shown;
    juce::TextEditor typed;
    juce::ComboBox choice;
    juce::TextButton less{juce::CharPointer_UTF8("\xe2\x88\x92")}, more{"+"};
    std::string refused;
};

} // namespace headland::editor
