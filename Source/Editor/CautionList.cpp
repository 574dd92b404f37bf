// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/CautionList.h"

#include "Cut/Spoils.h"
#include "Editor/ListRow.h"
#include "Editor/Words.h"
#include "Files/Text.h"
#include "Log/FlagTable.h"

#include <algorithm>

namespace headland::editor {

namespace {

constexpr int headHeight = 22, rowHeight = 34;

std::string whereOf(const cut::Passage& passage) {
    return files::minutesTenths(placeOf(passage)) + " " + std::string(cut::name(passage.flag));
}

std::string worstOf(const cut::Passage& passage, Units units) {
    return inUnits(log::worstText(passage), units);
}

} // namespace

double placeOf(const cut::Passage& passage) noexcept {
    return passage.worst.valid ? passage.worst.time_s : passage.start_s;
}

std::string cautionText(const cut::Passage& passage, Units units) {
    const auto worst = worstOf(passage, units);
    return whereOf(passage) + (worst.empty() ? std::string() : ": " + worst);
}

CautionList::CautionList() {
    setComponentID("cautions");
    list.setModel(this);
    list.setRowHeight(rowHeight);
    list.setTitle("Cautions");
    list.setColour(juce::ListBox::backgroundColourId, colour(palette::panel));
    addAndMakeVisible(list);
}

CautionList::~CautionList() {
    list.setModel(nullptr);
}

void CautionList::show(const std::vector<cut::Passage>& wanted, bool isSide, Units wantedUnits) {
    if (wanted != passages || wantedUnits != units) {
        passages = wanted;
        units = wantedUnits;
        list.updateContent();
        list.repaint();
    }
    const auto head = !isSide            ? std::string("No cautions yet")
                      : passages.empty() ? std::string("No cautions")
                                         : files::counted(static_cast<long long>(passages.size()), "caution");
    if (head == headline)
        return;
    headline = head;
    setTitle(toJuce(headline));
    repaint();
}

std::optional<double> CautionList::step(double from_s, bool forward) const {
    constexpr double same_s = 1e-6;
    std::optional<double> best;
    for (const auto& passage : passages) {
        const auto at_s = placeOf(passage);
        if (forward ? at_s > from_s + same_s && (!best || at_s < *best)
                    : at_s < from_s - same_s && (!best || at_s > *best))
            best = at_s;
    }
    return best;
}

std::string CautionList::row(int number) const {
    return cautionText(passages[static_cast<std::size_t>(number)], units);
}

juce::String CautionList::getNameForRow(int number) {
    return number < getNumRows() ? toJuce(row(number)) : juce::String();
}

void CautionList::choose(int number) {
    if (onChoose && number >= 0 && number < getNumRows())
        onChoose(passages[static_cast<std::size_t>(number)]);
}

void CautionList::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    g.setColour(colour(passages.empty() ? palette::quiet : palette::caution));
    drawWhole(g, toJuce(headline), getLocalBounds().removeFromTop(headHeight).toFloat().reduced(8, 0), 15,
              juce::Justification::centredLeft, true);
}

void CautionList::paintListBoxItem(int number, juce::Graphics& g, int width, int height, bool isSelected) {
    if (number >= getNumRows())
        return;
    const auto area = drawRowGround(g, list, width, height, isSelected);
    const auto& passage = passages[static_cast<std::size_t>(number)];
    g.setColour(colour(cut::spoils(passage.flag) ? palette::fault : palette::caution));
    auto lines = area.reduced(8, 1);
    drawWhole(g, toJuce(whereOf(passage)), lines.removeFromTop(lines.getHeight() / 2), 13,
              juce::Justification::centredLeft, true);
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(worstOf(passage, units)), lines, 13, juce::Justification::centredLeft);
}

void CautionList::resized() {
    list.setBounds(getLocalBounds().withTrimmedTop(headHeight).reduced(2));
}

} // namespace headland::editor
