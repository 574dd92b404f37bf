// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/CautionList.h"

#include "Cut/Spoils.h"
#include "Editor/Words.h"
#include "Log/FlagTable.h"
#include "Text/Figures.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>

namespace headland::editor {

namespace {

constexpr int cautionHeadHeight = 22, cautionRowHeight = 34, cautionButtonHeight = 24;
constexpr double same_s = 1e-6; ///< places closer than this are one

std::string whereOf(const cut::Passage& passage) {
    return text::minutesTenths(placeOf(passage)) + " " + std::string(cut::name(passage.flag));
}

std::string worstOf(const cut::Passage& passage, Units units) {
    return inUnits(log::worstText(passage), units);
}

std::string whereOf(const log::LoggedNote& note) {
    return (std::isnan(note.time_s) ? std::string() : text::minutesTenths(note.time_s) + " ")
           + (note.isMark() ? "mark" : "note");
}

bool areSame(const std::vector<log::LoggedNote>& a, const std::vector<log::LoggedNote>& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
        return x.note == y.note && x.text == y.text
               && (x.time_s == y.time_s || (std::isnan(x.time_s) && std::isnan(y.time_s)));
    });
}

std::string headingOf(bool isSide, std::size_t passages, std::size_t notes) {
    const auto cautions = !isSide         ? std::string("No cautions yet")
                          : passages == 0 ? std::string("No cautions")
                                          : text::counted(static_cast<long long>(passages), "caution");
    return cautions
           + (notes == 0 ? std::string() : ", " + text::counted(static_cast<long long>(notes), "note"));
}

} // namespace

double placeOf(const cut::Passage& passage) noexcept {
    return passage.worst.valid ? passage.worst.time_s : passage.start_s;
}

std::string cautionText(const cut::Passage& passage, Units units) {
    const auto worst = worstOf(passage, units);
    return whereOf(passage) + (worst.empty() ? std::string() : ": " + worst);
}

std::string noteText(const log::LoggedNote& note) {
    return whereOf(note) + (note.isMark() ? std::string() : ": " + text::printable(note.text));
}

CautionList::CautionList() {
    setComponentID("cautions");
    list.setModel(this);
    list.setRowHeight(cautionRowHeight);
    list.setTitle("Cautions and notes");
    list.setColour(juce::ListBox::backgroundColourId, colour(palette::panel));
    list.onDelete = [this] { tellNote(list.getSelectedRow(), onDelete); };
    addAndMakeVisible(list);
    edit.setComponentID("edit note");
    edit.setTooltip(
        "Other words for the chosen note; the book keeps what it said. A double click does the same.");
    edit.onClick = [this] { tellNote(list.getSelectedRow(), onEdit); };
    remove.setComponentID("delete note");
    remove.setTooltip(
        "Deletes the chosen note, as the key Delete does; the book keeps it, marked as deleted.");
    remove.onClick = [this] { tellNote(list.getSelectedRow(), onDelete); };
    for (auto* button : {&edit, &remove})
        addChildComponent(button);
}

CautionList::~CautionList() {
    list.setModel(nullptr);
}

void CautionList::show(const CautionSight& sight) {
    static const std::vector<cut::Passage> nothing;
    static const std::vector<log::LoggedNote> unnoted;
    const auto& wanted = sight.passages == nullptr ? nothing : *sight.passages;
    const auto& wantedNotes = sight.notes == nullptr ? unnoted : *sight.notes;
    if (wanted != passages || !areSame(wantedNotes, notes) || sight.units != units
        || sight.canEdit != canEdit) {
        passages = wanted;
        notes = wantedNotes;
        units = sight.units;
        canEdit = sight.canEdit;
        putInOrder();
    }
    follow(sight.place_s);
    const auto head = headingOf(sight.passages != nullptr, passages.size(), notes.size());
    if (head == headline)
        return;
    headline = head;
    setTitle(toJuce(headline));
    repaint();
}

/// By time; notes of the cut as a whole last.
void CautionList::putInOrder() {
    order.clear();
    for (std::size_t i = 0; i < passages.size(); ++i)
        order.push_back({false, i, placeOf(passages[i])});
    for (std::size_t i = 0; i < notes.size(); ++i)
        order.push_back({true, i, notes[i].time_s});
    std::stable_sort(order.begin(), order.end(), [](const Row& a, const Row& b) {
        return std::isnan(b.time_s) ? !std::isnan(a.time_s) : a.time_s < b.time_s;
    });
    followed_s.reset();
    list.deselectAllRows();
    list.updateContent();
    list.repaint();
    for (auto* button : {&edit, &remove})
        button->setVisible(canEdit && !notes.empty());
    enableButtons();
    resized();
}

/// The row of the place is selected and seen; of several the one that was chosen, or what spoils.
void CautionList::follow(std::optional<double> place_s) {
    if (place_s == followed_s)
        return;
    followed_s = place_s;
    const auto isThere = [&](int row) {
        return place_s && row >= 0 && row < rows()
               && std::abs(order[static_cast<std::size_t>(row)].time_s - *place_s) < same_s;
    };
    if (isThere(list.getSelectedRow()))
        return;
    int found = -1;
    for (int row = 0; row < rows(); ++row) {
        const auto& there = order[static_cast<std::size_t>(row)];
        if (isThere(row) && (found < 0 || (!there.isNote && cut::spoils(passages[there.index].flag))))
            found = row;
    }
    if (found < 0)
        list.deselectAllRows();
    else
        list.selectRow(found);
}

std::optional<double> CautionList::step(double from_s, bool forward) const {
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
    const auto& row = order[static_cast<std::size_t>(number)];
    return row.isNote ? noteText(notes[row.index]) : cautionText(passages[row.index], units);
}

juce::String CautionList::getNameForRow(int number) {
    return number < rows() ? toJuce(row(number)) : juce::String();
}

void CautionList::choose(int number) {
    if (onPlace && number >= 0 && number < rows())
        if (const auto time_s = order[static_cast<std::size_t>(number)].time_s; !std::isnan(time_s))
            onPlace(time_s);
}

const log::LoggedNote* CautionList::noteAt(int row) const {
    if (row < 0 || row >= rows() || !order[static_cast<std::size_t>(row)].isNote)
        return nullptr;
    return &notes[order[static_cast<std::size_t>(row)].index];
}

/// A copy: what is told may change the notes.
void CautionList::tellNote(int row, const std::function<void(const log::LoggedNote&)>& whom) const {
    const auto* there = noteAt(row);
    if (!canEdit || there == nullptr || !whom)
        return;
    const auto note = *there;
    whom(note);
}

void CautionList::enableButtons() {
    const auto isNote = noteAt(list.getSelectedRow()) != nullptr;
    edit.setEnabled(isNote);
    remove.setEnabled(isNote);
}

void CautionList::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    g.setColour(colour(passages.empty() ? palette::quiet : palette::caution));
    drawWhole(g, toJuce(headline), getLocalBounds().removeFromTop(cautionHeadHeight).toFloat().reduced(8, 0),
              15, juce::Justification::centredLeft, true);
}

void CautionList::paintListBoxItem(int number, juce::Graphics& g, int width, int height, bool isSelected) {
    if (number >= rows())
        return;
    const auto area = drawRowGround(g, list, width, height, isSelected);
    const auto& row = order[static_cast<std::size_t>(number)];
    auto lines = area.reduced(8, 1);
    const auto head = lines.removeFromTop(lines.getHeight() / 2);
    if (row.isNote) {
        const auto& note = notes[row.index];
        g.setColour(colour(palette::good));
        drawWhole(g, toJuce(whereOf(note)), head, 13, juce::Justification::centredLeft, true);
        g.setColour(colour(palette::text));
        g.setFont(13.0f);
        g.drawText(toJuce(note.text), lines, juce::Justification::centredLeft);
        return;
    }
    const auto& passage = passages[row.index];
    g.setColour(colour(cut::spoils(passage.flag) ? palette::fault : palette::caution));
    drawWhole(g, toJuce(whereOf(passage)), head, 13, juce::Justification::centredLeft, true);
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(worstOf(passage, units)), lines, 13, juce::Justification::centredLeft);
}

void CautionList::resized() {
    auto area = getLocalBounds().withTrimmedTop(cautionHeadHeight).reduced(2);
    if (edit.isVisible()) {
        auto buttons = area.removeFromBottom(cautionButtonHeight);
        edit.setBounds(buttons.removeFromLeft(buttons.getWidth() / 2).withTrimmedRight(2));
        remove.setBounds(buttons);
    }
    list.setBounds(area);
}

} // namespace headland::editor
