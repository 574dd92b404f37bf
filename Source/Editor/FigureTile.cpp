// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/FigureTile.h"

#include "Editor/Look.h"

namespace headland::editor {

FigureTile::FigureTile(float height) : valueHeight(height) {
    setInterceptsMouseClicks(false, false);
}

void FigureTile::show(const Figure& wanted) {
    if (wanted.name == figure.name && wanted.value == figure.value && wanted.beside == figure.beside)
        return;
    figure = wanted;
    setTitle(toJuce(figure.name + " " + figure.value + (figure.beside.empty() ? "" : ", " + figure.beside)));
    repaint();
}

/// A row of a ledger: name, figure, and what stands beside it, in columns.
void FigureTile::paintRow(juce::Graphics& g) const {
    constexpr float nameShare = 0.27f, valueShare = 0.34f, gap = 4;
    auto area = getLocalBounds().toFloat().reduced(6, 0);
    const auto width = area.getWidth(), letters = std::min(13.0f, area.getHeight());
    g.setColour(colour(palette::quiet));
    drawWhole(g, toJuce(figure.name), area.removeFromLeft(nameShare * width), letters,
              juce::Justification::centredLeft);
    const auto value = area.removeFromLeft(figure.beside.empty() ? area.getWidth() : valueShare * width);
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(figure.value), value, letters + 1, juce::Justification::centredLeft, true);
    area.removeFromLeft(gap);
    g.setColour(colour(palette::quiet));
    drawWhole(g, toJuce(figure.beside), area, letters - 1, juce::Justification::centredLeft);
}

void FigureTile::paint(juce::Graphics& g) {
    if (getHeight() < rowHeightMost)
        return paintRow(g);
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    auto area = getLocalBounds().toFloat().reduced(10, 3);
    constexpr float letters = 14, lineHeight = 17;
    auto head = area.removeFromTop(lineHeight);
    const auto name = toJuce(figure.name);
    const auto nameWidth = juce::Font(letters).getStringWidthFloat(name) + 12;
    auto beside = area.getHeight() >= lineHeight + valueHeight ? area.removeFromBottom(lineHeight)
                                                               : head.withTrimmedLeft(nameWidth);
    g.setColour(colour(palette::quiet));
    drawWhole(g, name, head, letters, juce::Justification::centredLeft);
    drawWhole(g, toJuce(figure.beside), beside, letters,
              beside.getY() == head.getY() ? juce::Justification::centredRight
                                           : juce::Justification::centredLeft);
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(figure.value), area, std::min(valueHeight, area.getHeight()),
              juce::Justification::centredLeft, true);
}

std::unique_ptr<juce::AccessibilityHandler> FigureTile::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::staticText);
}

} // namespace headland::editor
