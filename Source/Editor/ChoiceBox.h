// SPDX-License-Identifier: GPL-3.0-or-later
// A choice of a few words. Its list is a part of the window and no menu: it is not modal, Escape closes it and goes on to the
// stylus, and every button beside it works. Main thread.
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace headland::editor {

class ChoiceBox final : public juce::ComboBox {
public:
    ChoiceBox();
    ~ChoiceBox() override;

    void showPopup() override;
    /// The arrow keys and Return open the list: a stray one changes nothing.
    bool keyPressed(const juce::KeyPress& key) override;
    /// The list, while it is open.
    juce::Component* openList() const;

private:
    class List;
    void closeList();
    void parentHierarchyChanged() override;

    std::unique_ptr<List> list;
};

/// Where lists are laid over everything else: a window's whole content.
class ListGround {
public:
    virtual ~ListGround() = default;
};

} // namespace headland::editor
