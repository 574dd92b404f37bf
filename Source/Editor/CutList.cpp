// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/CutList.h"

#include "Cut/UnitText.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace headland::editor {

namespace {

constexpr int cutListHeadHeight = 26, cutListRowHeight = 58;

/// By the clock here: "2026-03-14 10:26". What is no time is shown as it is.
std::string localTime(const std::string& utc) {
    const auto time = juce::Time::fromISO8601(toJuce(utc));
    return time.toMilliseconds() == 0 ? text::printable(utc) : time.formatted("%Y-%m-%d %H:%M").toStdString();
}

std::string programOf(const log::CutEntry& entry) {
    return entry.program.empty() ? "live"
                                 : text::printable(std::filesystem::path(entry.program).filename().string());
}

std::uint32_t colourOf(const log::CutEntry& entry) {
    return !entry.scrap.empty() || entry.isFault ? palette::fault
           : entry.ending == "finished"          ? palette::good
                                                 : palette::caution;
}

} // namespace

std::string cutTitle(const log::CutEntry& entry) {
    return std::to_string(entry.cut) + "  " + text::printable(entry.side.job) + ", side "
           + text::printable(entry.side.side) + "; " + programOf(entry);
}

std::string cutVerdict(const log::CutEntry& entry, Units units) {
    if (!entry.scrap.empty())
        return inUnits("Scrap: " + entry.scrap, units);
    if (entry.ending.empty())
        return "No end: under way or broken off";
    constexpr std::string_view asFault = "ended as a fault: ";
    if (entry.isFault)
        return "Fault: "
               + text::printable(entry.ending.substr(entry.ending.starts_with(asFault) ? asFault.size() : 0));
    return (entry.ending == "finished" ? "Good: " : "Not spoilt: ") + text::printable(entry.ending);
}

std::string cutFacts(const log::CutEntry& entry, Units units) {
    return localTime(entry.begun_utc) + ", level " + cut::textWithUnit(entry.discLevel_db, "dB")
           + (std::isnan(entry.endDiameter_mm) ? std::string()
                                               : ", ends at " + longLength(entry.endDiameter_mm, units))
           + (std::isnan(entry.last_s) ? ", nothing was cut" : ", " + text::minutesSeconds(entry.last_s));
}

CutList::CutList() {
    setComponentID("cuts");
    setTitle("Cuts of the book");
    list.setModel(this);
    list.setRowHeight(cutListRowHeight);
    list.setTitle("Cuts of the book");
    list.setColour(juce::ListBox::backgroundColourId, colour(palette::panel));
    addAndMakeVisible(list);
}

CutList::~CutList() {
    list.setModel(nullptr);
}

void CutList::show(std::vector<log::CutEntry> cuts, const std::string& why) {
    const auto chosen = list.getSelectedRow();
    const auto selected = chosen < 0 || chosen >= getNumRows() ? std::optional<std::int64_t>()
                                                               : all[static_cast<std::size_t>(chosen)].cut;
    std::reverse(cuts.begin(), cuts.end());
    all = std::move(cuts);
    empty = why;
    list.updateContent();
    select(selected);
    list.setVisible(!all.empty());
    list.repaint();
    repaint();
}

/// The same cut as before, wherever it stands now.
void CutList::select(std::optional<std::int64_t> cut) {
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const auto& entry) { return entry.cut == cut; });
    if (found == all.end())
        list.deselectAllRows();
    else
        list.selectRow(static_cast<int>(found - all.begin()));
}

void CutList::showIn(Units wanted) {
    if (wanted == units)
        return;
    units = wanted;
    list.repaint();
}

juce::String CutList::getNameForRow(int number) {
    if (number >= getNumRows())
        return {};
    const auto& entry = all[static_cast<std::size_t>(number)];
    return toJuce("Cut " + cutTitle(entry) + ". " + cutVerdict(entry, units) + ". " + cutFacts(entry, units));
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
              area.removeFromTop(cutListHeadHeight), 15, juce::Justification::centredLeft, true);
    if (all.empty())
        drawWrapped(g, toJuce(empty), area.reduced(0, 4), 15, colour(palette::quiet));
}

void CutList::paintListBoxItem(int number, juce::Graphics& g, int width, int height, bool isSelected) {
    if (number >= getNumRows())
        return;
    const auto area = drawRowGround(g, list, width, height, isSelected);
    const auto& entry = all[static_cast<std::size_t>(number)];
    auto lines = area.reduced(8, 3);
    const auto lineHeight = lines.getHeight() / 3;
    const auto line = [&](const std::string& text, std::uint32_t paint, bool bold) {
        g.setColour(colour(paint));
        drawWhole(g, toJuce(text), lines.removeFromTop(lineHeight), bold ? 15.0f : 14.0f,
                  juce::Justification::centredLeft, bold);
    };
    line(cutTitle(entry), palette::text, true);
    line(cutVerdict(entry, units), colourOf(entry), true);
    line(cutFacts(entry, units), palette::quiet, false);
}

void CutList::resized() {
    list.setBounds(getLocalBounds().withTrimmedTop(cutListHeadHeight).reduced(2));
}

} // namespace headland::editor
