// SPDX-License-Identifier: GPL-3.0-or-later
// The cuts of a book, newest first, one to be chosen for review. Main thread.
#pragma once

#include "Editor/ListRow.h"
#include "Editor/Units.h"
#include "Log/BookReader.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace headland::editor {

/// "3  Lantern Sessions, side A; side a.wav": which cut it is, and of which program.
std::string cutTitle(const log::CutEntry& entry);
/// "Scrap: it overcuts, by 27.6 µm at 1:36.0", "Good: finished": what became of it.
std::string cutVerdict(const log::CutEntry& entry, Units units);
/// "2026-03-14 10:26, level 0 dB, ends at 267.1 mm, 21:07": when it began, by the clock here, and its figures.
std::string cutFacts(const log::CutEntry& entry, Units units);

class CutList final : public juce::Component, private juce::ListBoxModel {
public:
    CutList();
    ~CutList() override;

    /// `why`: stands there when there are none. A cut that was selected stays so, and the list keeps the keyboard.
    void show(std::vector<log::CutEntry> cuts, const std::string& why);
    void showIn(Units units);
    const std::vector<log::CutEntry>& cuts() const noexcept { return all; }

    /// Called with the number of a cut that somebody chose: by double click or Return.
    std::function<void(std::int64_t cut)> onChoose;
    /// Chooses the selected one, or the newest.
    void chooseSelected();

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    int getNumRows() override { return static_cast<int>(all.size()); }
    void paintListBoxItem(int number, juce::Graphics& g, int width, int height, bool isSelected) override;
    juce::String getNameForRow(int number) override;
    void listBoxItemDoubleClicked(int number, const juce::MouseEvent&) override { choose(number); }
    void returnKeyPressed(int number) override { choose(number); }
    void choose(int number);
    void select(std::optional<std::int64_t> cut);

    std::vector<log::CutEntry> all;
    std::string empty;
    Units units = Units::metric;
    RowList list;
};

} // namespace headland::editor
