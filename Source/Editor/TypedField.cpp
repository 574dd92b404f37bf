// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/TypedField.h"

#include "Editor/Look.h"

#include <algorithm>

namespace headland::editor {

namespace {

constexpr float nameLetters = 14, smallLetters = 13, typedLeast = 10;
constexpr int textIndent = 3, caretWidth = 3;

} // namespace

TypedField::~TypedField() {
    typed.onFocusLost = nullptr; // there is nothing left to take it over
}

void TypedField::addTyped(float letters) {
    lettersWanted = letters;
    typed.setFont(juce::Font(letters));
    typed.setIndents(textIndent, typed.getTopIndent());
    typed.setJustification(juce::Justification::centredLeft);
    typed.onTextChange = [this] { fitTyped(); };
    typed.setSelectAllWhenFocused(true);
    typed.onReturnKey = [this] {
        enter(typed.getText());
        if (onDone && refused.empty())
            onDone();
    };
    typed.onFocusLost = [this] {
        if (typed.getText() != value())
            enter(typed.getText());
    };
    typed.onEscapeKey = [this] {
        giveUpTyping();
        if (onDone)
            onDone();
        if (onEscape)
            onEscape();
    };
    addAndMakeVisible(typed);
}

void TypedField::giveUpTyping() {
    refused.clear();
    typed.setText(value(), false);
    fitTyped();
    repaint();
}

void TypedField::refresh() {
    if (typed.hasKeyboardFocus(true) || !refused.empty() || typed.getText() == value())
        return;
    typed.setText(value(), false);
    fitTyped();
}

/// A field that shows the last digits only shows another value.
void TypedField::fitTyped() {
    const auto room = static_cast<float>(typed.getWidth() - 2 * textIndent - caretWidth);
    const auto wide = juce::Font(lettersWanted).getStringWidthFloat(typed.getText());
    const auto letters =
        wide <= room || room <= 0 ? lettersWanted : std::max(typedLeast, lettersWanted * room / wide * 0.98f);
    if (letters != typed.getFont().getHeight())
        typed.applyFontToAllText(juce::Font(letters));
}

void TypedField::enter(const juce::String& text) {
    refused = take(text);
    typed.setText(refused.empty() ? value() : text, false);
    fitTyped();
    repaint();
    if (onEntered)
        onEntered(refused.empty() ? refused : refusalTold());
}

juce::String TypedField::refusalBeside() const {
    return toJuce(refused);
}

void TypedField::paint(juce::Graphics& g) {
    auto area = getLocalBounds().toFloat();
    g.setColour(colour(palette::text));
    drawWhole(g, nameAbove(), area.removeFromTop(nameHeight), nameLetters, juce::Justification::centredLeft);
    area.removeFromTop(fieldHeight);
    if (area.isEmpty())
        return;
    g.setColour(colour(palette::quiet));
    if (refused.empty())
        drawWhole(g, below(), area, smallLetters, juce::Justification::centredLeft);
    else
        drawWrapped(g, "Refused: " + refusalBeside(), area, smallLetters, colour(palette::caution));
}

void TypedField::resized() {
    typed.setBounds(getLocalBounds().withTrimmedTop(nameHeight).removeFromTop(fieldHeight));
    fitTyped();
}

} // namespace headland::editor
