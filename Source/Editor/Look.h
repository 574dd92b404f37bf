// SPDX-License-Identifier: GPL-3.0-or-later
// How the windows' buttons, fields and lists are drawn: dark, with a visible frame around what has the keyboard. Main
// thread.
#pragma once

#include "Editor/Palette.h"
#include "Text/Safe.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <string>

namespace headland::editor {

inline juce::Colour colour(std::uint32_t argb) {
    return juce::Colour(argb);
}

/// Text as a window shows it: names of files, jobs and notes come from outside, so all of it is printable(), one line.
inline juce::String toJuce(std::string_view utf8) {
    return juce::String::fromUTF8(text::printable(utf8).c_str());
}

class Look final : public juce::LookAndFeel_V4 {
public:
    Look();

    void drawButtonBackground(juce::Graphics& g, juce::Button& button, const juce::Colour& ground,
                              bool highlighted, bool down) override;
    void drawButtonText(juce::Graphics& g, juce::TextButton& button, bool highlighted, bool down) override;
    void drawComboBox(juce::Graphics& g, int width, int height, bool down, int buttonX, int buttonY,
                      int buttonWidth, int buttonHeight, juce::ComboBox& box) override;
    juce::Font getComboBoxFont(juce::ComboBox&) override;
};

/// The frame around what has the keyboard.
void drawFocus(juce::Graphics& g, juce::Rectangle<float> area);

/// Draws one line whole: smaller where it does not fit.
void drawWhole(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area, float height,
               juce::Justification where, bool bold = false);

/// Draws a text whole, in as many lines as fit: smaller where it needs more.
void drawWrapped(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area, float height,
                 juce::Colour paint);

} // namespace headland::editor
