// SPDX-License-Identifier: GPL-3.0-or-later
// The cautions: every flagged passage of the side, what, where and by how much; a click or Return looks there. Main thread.
#pragma once

#include "Cut/CutSummary.h"
#include "Editor/Units.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace headland::editor {

/// "3:21.0 thin-land: land 8.3 µm, diameter 262.1 mm"
std::string cautionText(const cut::Passage& passage, Units units);

/// Program time of the place that a passage is about: its worst.
double placeOf(const cut::Passage& passage) noexcept;

class CautionList final : public juce::Component, private juce::ListBoxModel {
public:
    CautionList();
    ~CautionList() override;

    /// The passages of a side, in order of time; `isSide`: there is one.
    void show(const std::vector<cut::Passage>& passages, bool isSide, Units units);
    /// Goes to the next one after a time, or the one before it; nothing where there is none.
    std::optional<double> step(double from_s, bool forward) const;

    /// Called with a passage that somebody chose.
    std::function<void(const cut::Passage&)> onChoose;
    /// What stands above the list.
    const std::string& heading() const noexcept { return headline; }
    std::string row(int number) const;

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    int getNumRows() override { return static_cast<int>(passages.size()); }
    void paintListBoxItem(int number, juce::Graphics& g, int width, int height, bool isSelected) override;
    juce::String getNameForRow(int number) override;
    void listBoxItemClicked(int number, const juce::MouseEvent&) override { choose(number); }
    void returnKeyPressed(int number) override { choose(number); }
    void choose(int number);

    std::vector<cut::Passage> passages;
    Units units = Units::metric;
    std::string headline;
    juce::ListBox list;
};

} // namespace headland::editor
