// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/TypedField.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr float nameLetters = 14, smallLetters = 13;

} // namespace

TypedField::~TypedField() {
    typed.onFocusLost = nullptr; // there is nothing left to take it over
}

void TypedField::addTyped(float letters) {
    typed.setFont(juce::Font(letters));
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
    repaint();
}

void TypedField::refresh() {
    if (!typed.hasKeyboardFocus(true) && refused.empty() && typed.getText() != value())
        typed.setText(value(), false);
}

void TypedField::enter(const juce::String& text) {
    refused = take(text);
    typed.setText(refused.empty() ? value() : text, false);
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
}

} // namespace headland::editor
