// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/CutList.h"

#include "Editor/ListRow.h"
#include "Files/Text.h"

#include <algorithm>

namespace headland::editor {

namespace {

constexpr int headHeight = 26, rowHeight = 42;

} // namespace

std::string cutTitle(const log::CutEntry& entry) {
    return std::to_string(entry.cut) + "  " + files::printable(entry.side.job) + ", side "
           + files::printable(entry.side.side);
}

std::string cutFacts(const log::CutEntry& entry) {
    constexpr std::size_t toMinutes = 16; // of 2026-03-14T09:26:53.589Z
    auto begun = entry.begun_utc.substr(0, toMinutes);
    std::replace(begun.begin(), begun.end(), 'T', ' ');
    return begun + " UTC, " + (entry.ending.empty() ? "under way or broken off" : entry.ending)
           + (std::isnan(entry.last_s) ? ", nothing was cut" : ", " + files::minutesSeconds(entry.last_s));
}

CutList::CutList() {
    setComponentID("cuts");
    setTitle("Cuts of the book");
    list.setModel(this);
    list.setRowHeight(rowHeight);
    list.setTitle("Cuts of the book");
    list.setColour(juce::ListBox::backgroundColourId, colour(palette::panel));
    addAndMakeVisible(list);
}

CutList::~CutList() {
    list.setModel(nullptr);
}

void CutList::show(std::vector<log::CutEntry> cuts, const std::string& why) {
    std::reverse(cuts.begin(), cuts.end());
    all = std::move(cuts);
    empty = why;
    list.updateContent();
    list.setVisible(!all.empty());
    list.repaint();
    repaint();
}

juce::String CutList::getNameForRow(int number) {
    if (number >= getNumRows())
        return {};
    const auto& entry = all[static_cast<std::size_t>(number)];
    return toJuce("Cut " + cutTitle(entry) + ", " + cutFacts(entry));
}

void CutList::choose(int number) {
    if (onChoose && number >= 0 && number < getNumRows())
        onChoose(all[static_cast<std::size_t>(number)].cut);
}

void CutList::chooseSelected() {
    choose(std::max(0, list.getSelectedRow()));
}

void CutList::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    auto area = getLocalBounds().toFloat().reduced(8, 0);
    g.setColour(colour(palette::text));
    drawWhole(g, all.empty() ? "Cuts of the book" : "Cuts of the book, newest first: choose one to review",
              area.removeFromTop(headHeight), 15, juce::Justification::centredLeft, true);
    if (all.empty())
        drawWrapped(g, toJuce(empty), area.reduced(0, 4), 15, colour(palette::quiet));
}

void CutList::paintListBoxItem(int number, juce::Graphics& g, int width, int height, bool isSelected) {
    if (number >= getNumRows())
        return;
    const auto area = drawRowGround(g, list, width, height, isSelected);
    const auto& entry = all[static_cast<std::size_t>(number)];
    auto lines = area.reduced(8, 3);
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(cutTitle(entry)), lines.removeFromTop(lines.getHeight() / 2), 15,
              juce::Justification::centredLeft, true);
    g.setColour(colour(entry.isFault ? palette::fault : palette::quiet));
    drawWhole(g, toJuce((entry.isFault ? "Fault: " : "") + cutFacts(entry)), lines, 14,
              juce::Justification::centredLeft);
}

void CutList::resized() {
    list.setBounds(getLocalBounds().withTrimmedTop(headHeight).reduced(2));
}

} // namespace headland::editor
