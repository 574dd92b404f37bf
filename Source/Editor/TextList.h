// SPDX-License-Identifier: GPL-3.0-or-later
// A list of lines, one to be chosen: by a click or Return. Main thread.
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <string>
#include <vector>

namespace headland::editor {

class TextList : public juce::ListBox, private juce::ListBoxModel {
public:
    static constexpr int lineHeight = 30;

    TextList();
    ~TextList() override;

    void show(std::vector<std::string> lines);
    const std::vector<std::string>& lines() const noexcept { return all; }

    std::function<void(int row)> onChoose; ///< Return, a double click; a click too where `choosesByClick`
    std::function<void(int row)> onSelect; ///< one is looked at; -1: none
    bool choosesByClick = false;

private:
    int getNumRows() override { return static_cast<int>(all.size()); }
    void paintListBoxItem(int row, juce::Graphics& g, int width, int height, bool isSelected) override;
    juce::String getNameForRow(int row) override;
    void listBoxItemClicked(int row, const juce::MouseEvent&) override;
    void listBoxItemDoubleClicked(int row, const juce::MouseEvent&) override;
    void returnKeyPressed(int row) override { choose(row); }
    void selectedRowsChanged(int row) override;
    void choose(int row);

    std::vector<std::string> all;
};

} // namespace headland::editor
