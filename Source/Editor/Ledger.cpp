// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Ledger.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr int ledgerHeadHeight = 22;

} // namespace

Ledger::Ledger() {
    setComponentID("ledger");
}

void Ledger::show(const std::string& heading, const std::vector<Figure>& figures) {
    if (heading != head) {
        head = heading;
        setTitle(toJuce("Ledger: " + head));
        repaint(getLocalBounds().removeFromTop(ledgerHeadHeight));
    }
    if (rows.size() != figures.size()) {
        rows.clear();
        for (std::size_t i = 0; i < figures.size(); ++i)
            addAndMakeVisible(*rows.emplace_back(std::make_unique<FigureTile>(15.0f)));
        resized();
    }
    for (std::size_t i = 0; i < figures.size(); ++i) {
        rows[i]->setComponentID(toJuce(figures[i].name));
        rows[i]->show(figures[i]);
    }
}

void Ledger::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(head), getLocalBounds().removeFromTop(ledgerHeadHeight).toFloat().reduced(6, 0), 15,
              juce::Justification::centredLeft, true);
}

void Ledger::resized() {
    const auto area = getLocalBounds().withTrimmedTop(ledgerHeadHeight).withTrimmedBottom(2).toFloat();
    const auto each = area.getHeight() / static_cast<float>(std::max<std::size_t>(1, rows.size()));
    auto y = area.getY();
    for (auto& row : rows) {
        row->setBounds(
            juce::Rectangle<float>(area.getX(), y, area.getWidth(), each).getSmallestIntegerContainer());
        y += each;
    }
}

} // namespace headland::editor
