// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/TextList.h"

#include "Editor/ListRow.h"

namespace headland::editor {

TextList::TextList() : juce::ListBox({}, nullptr) {
    setModel(this);
    setRowHeight(lineHeight);
    setOutlineThickness(1);
    setColour(outlineColourId, colour(palette::line));
    setColour(backgroundColourId, colour(palette::ground));
}

TextList::~TextList() {
    setModel(nullptr);
}

void TextList::show(std::vector<std::string> lines) {
    all = std::move(lines);
    deselectAllRows();
    updateContent();
    scrollToEnsureRowIsOnscreen(0);
    repaint();
}

void TextList::paintListBoxItem(int row, juce::Graphics& g, int width, int height, bool isSelected) {
    if (row >= getNumRows())
        return;
    const auto area = drawRowGround(g, *this, width, height, isSelected);
    g.setColour(colour(palette::text));
    drawWhole(g, getNameForRow(row), area.reduced(8, 0), 16, juce::Justification::centredLeft);
}

juce::String TextList::getNameForRow(int row) {
    return row < getNumRows() ? toJuce(all[static_cast<std::size_t>(row)]) : juce::String();
}

void TextList::listBoxItemClicked(int row, const juce::MouseEvent&) {
    if (choosesByClick)
        choose(row);
}

void TextList::listBoxItemDoubleClicked(int row, const juce::MouseEvent&) {
    if (!choosesByClick)
        choose(row);
}

void TextList::selectedRowsChanged(int row) {
    if (onSelect)
        onSelect(row);
}

void TextList::choose(int row) {
    if (onChoose && row >= 0 && row < getNumRows())
        onChoose(row);
}

} // namespace headland::editor
