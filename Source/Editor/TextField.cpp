// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/TextField.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr int nameHeight = 18, fieldHeight = 28;

} // namespace

TextField::TextField(const Texts& t, Read r, Write w) : texts(t), read(std::move(r)), write(std::move(w)) {
    setComponentID(texts.id);
    typed.setTitle(texts.name);
    typed.setTooltip(texts.about);
    typed.setFont(juce::Font(16.0f));
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
        refused.clear();
        typed.setText(value(), false);
        repaint();
        if (onDone)
            onDone();
        if (onEscape)
            onEscape();
    };
    addAndMakeVisible(typed);
    refresh();
}

juce::String TextField::value() const {
    return toJuce(read());
}

void TextField::refresh() {
    if (!typed.hasKeyboardFocus(true) && refused.empty() && typed.getText() != value())
        typed.setText(value(), false);
}

void TextField::enter(const juce::String& text) {
    refused = write(text.trim().toStdString());
    typed.setText(refused.empty() ? value() : text, false);
    repaint();
    if (onEntered)
        onEntered(refused);
}

void TextField::paint(juce::Graphics& g) {
    auto area = getLocalBounds().toFloat();
    g.setColour(colour(palette::text));
    drawWhole(g, texts.name, area.removeFromTop(nameHeight), 14, juce::Justification::centredLeft);
    area.removeFromTop(fieldHeight);
    if (area.isEmpty())
        return;
    g.setColour(colour(refused.empty() ? palette::quiet : palette::fault));
    if (refused.empty())
        return drawWhole(g, texts.below, area, 13, juce::Justification::centredLeft);
    g.setFont(13);
    g.drawFittedText("Refused: " + toJuce(refused), area.toNearestInt(), juce::Justification::centredLeft, 2,
                     0.7f);
}

void TextField::resized() {
    typed.setBounds(getLocalBounds().withTrimmedTop(nameHeight).removeFromTop(fieldHeight));
}

} // namespace headland::editor
