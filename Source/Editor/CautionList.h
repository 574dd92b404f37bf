// SPDX-License-Identifier: GPL-3.0-or-later
// The cautions: every flagged passage of the side, what, where and by how much; and between them, in order of time, its marks
// and notes. A click or Return looks there. In a review a note can be written anew and deleted. Main thread.
#pragma once

#include "Cut/CutSummary.h"
#include "Editor/ListRow.h"
#include "Editor/Units.h"
#include "Log/CutRecord.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace headland::editor {

/// "3:21.0 thin-land: land 8.3 µm, diameter 262.1 mm"
std::string cautionText(const cut::Passage& passage, Units units);
/// "3:21.0 note: a crackle", "3:21.0 mark", "note: held back"
std::string noteText(const log::LoggedNote& note);

/// Program time of the place that a passage is about: its worst.
double placeOf(const cut::Passage& passage) noexcept;

/// What the list is shown.
struct CautionSight {
    const std::vector<cut::Passage>* passages = nullptr; ///< of a side, in order of time; null: there is none
    const std::vector<log::LoggedNote>* notes = nullptr; ///< of its cut; null: none
    bool canEdit = false;                                ///< the notes
    std::optional<double> place_s;                       ///< that is looked at: its row is selected
    Units units = Units::metric;
};

class CautionList final : public juce::Component, private juce::ListBoxModel {
public:
    CautionList();
    ~CautionList() override;

    void show(const CautionSight& sight);
    /// Goes to the next caution after a time, or the one before it; nothing where there is none.
    std::optional<double> step(double from_s, bool forward) const;

    /// Called with the program time of a row that somebody chose.
    std::function<void(double time_s)> onPlace;
    /// Called with a note that is to be written anew, or deleted.
    std::function<void(const log::LoggedNote&)> onEdit, onDelete;
    /// What stands above the list.
    const std::string& heading() const noexcept { return headline; }
    std::string row(int number) const;
    int rows() const noexcept { return static_cast<int>(order.size()); }
    /// The row that is highlighted; -1: none.
    int selected() const { return list.getSelectedRow(); }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    /// A passage or a note, by its place among them.
    struct Row {
        bool isNote;
        std::size_t index;
        double time_s; ///< NaN: of the cut as a whole
    };

    int getNumRows() override { return rows(); }
    void paintListBoxItem(int number, juce::Graphics& g, int width, int height, bool isSelected) override;
    juce::String getNameForRow(int number) override;
    void listBoxItemClicked(int number, const juce::MouseEvent&) override { choose(number); }
    void listBoxItemDoubleClicked(int number, const juce::MouseEvent&) override { tellNote(number, onEdit); }
    void returnKeyPressed(int number) override { choose(number); }
    void selectedRowsChanged(int) override { enableButtons(); }
    void choose(int number);
    void follow(std::optional<double> place_s);
    void putInOrder();
    void enableButtons();
    const log::LoggedNote* noteAt(int row) const;
    void tellNote(int row, const std::function<void(const log::LoggedNote&)>& whom) const;

    std::vector<cut::Passage> passages;
    std::vector<log::LoggedNote> notes;
    std::vector<Row> order;
    std::optional<double> followed_s;
    Units units = Units::metric;
    bool canEdit = false;
    std::string headline;
    RowList list;
    juce::TextButton edit{"Edit note"}, remove{"Delete note"};
};

} // namespace headland::editor
