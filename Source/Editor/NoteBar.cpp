// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/NoteBar.h"

#include "Editor/Look.h"

#include <utility>

namespace headland::editor {

namespace {

constexpr float promptShare = 0.42f, noteLetters = 15;

} // namespace

NoteBar::NoteBar() {
    setComponentID("note bar");
    words.setComponentID("note text");
    words.setTitle("Note");
    words.setFont(juce::Font(16.0f));
    words.onReturnKey = [this] { take(); };
    words.onEscapeKey = [this] {
        close();
        if (onEscape)
            onEscape();
    };
    addAndMakeVisible(words);
    setVisible(false);
}

void NoteBar::open(const std::string& prompt, const std::string& text, Keep taken) {
    keep = std::move(taken);
    line = prompt;
    isRefused = false;
    words.setText(toJuce(text), false);
    setTitle(toJuce(line));
    setVisible(true);
    words.grabKeyboardFocus();
    repaint();
}

/// What is refused stays, so that nothing typed is lost; without words nothing is kept.
void NoteBar::take() {
    const auto text = words.getText().trim().toStdString();
    const auto refusal = text.empty() ? std::string() : keep(text);
    isRefused = !refusal.empty();
    if (isRefused) {
        line = "Refused: " + refusal;
        setTitle(toJuce(line));
        repaint();
    } else
        close();
}

void NoteBar::close() {
    setVisible(false);
    keep = nullptr;
    if (onDone)
        onDone();
}

void NoteBar::paint(juce::Graphics& g) {
    g.fillAll(colour(palette::panel));
    drawWrapped(
        g, toJuce(line),
        getLocalBounds().toFloat().withWidth(promptShare * static_cast<float>(getWidth())).reduced(6, 1),
        noteLetters, colour(isRefused ? palette::caution : palette::text));
}

void NoteBar::resized() {
    words.setBounds(
        getLocalBounds().withTrimmedLeft(juce::roundToInt(promptShare * static_cast<float>(getWidth()))));
}

} // namespace headland::editor
