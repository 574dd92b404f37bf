// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/ChoiceBox.h"

#include "Editor/Look.h"
#include "Editor/TextList.h"

#include <algorithm>

namespace headland::editor {

class ChoiceBox::List final : public TextList {
public:
    explicit List(ChoiceBox& b) : box(b) {
        setComponentID("choices");
        setTitle(box.getTitle());
        setColour(outlineColourId, colour(palette::text));
        choosesByClick = true;
        std::vector<std::string> texts;
        for (int i = 0; i < box.getNumItems(); ++i)
            texts.push_back(box.getItemText(i).toStdString());
        show(std::move(texts));
        selectRow(box.getSelectedItemIndex());
        onChoose = [this](int row) {
            box.closeList();
            box.grabKeyboardFocus();
            box.setSelectedItemIndex(row, juce::sendNotificationSync);
        };
    }

    /// Below its box, or above where there is more room.
    void openOver(juce::Component& ground) {
        constexpr int widthLeast = 180;
        ground.addAndMakeVisible(*this);
        const auto of = ground.getLocalArea(&box, box.getLocalBounds());
        const auto below = ground.getHeight() - of.getBottom(), above = of.getY();
        const auto height = std::min(getNumRowsHeight(), std::max(below, above));
        const auto width = std::max(of.getWidth(), widthLeast);
        setBounds(std::clamp(of.getX(), 0, std::max(0, ground.getWidth() - width)),
                  height <= below ? of.getBottom() : of.getY() - height, width, height);
        grabKeyboardFocus();
    }

    bool keyPressed(const juce::KeyPress& key) override {
        if (key.isKeyCode(juce::KeyPress::escapeKey)) {
            box.closeList();
            return false; // the key is the stylus'
        }
        return TextList::keyPressed(key);
    }
    void focusOfChildComponentChanged(FocusChangeType) override { closeWithoutKeyboard(); }
    void focusLost(FocusChangeType) override { closeWithoutKeyboard(); }

private:
    int getNumRowsHeight() const { return static_cast<int>(lines().size()) * lineHeight + 2; }
    void closeWithoutKeyboard() {
        if (!hasKeyboardFocus(true))
            box.closeList();
    }

    ChoiceBox& box;
};

ChoiceBox::ChoiceBox() = default;
ChoiceBox::~ChoiceBox() = default;

void ChoiceBox::showPopup() {
    closeList();
    auto* ground = dynamic_cast<juce::Component*>(findParentComponentOfClass<ListGround>());
    if (ground == nullptr || getNumItems() == 0)
        return;
    list = std::make_unique<List>(*this);
    list->openOver(*ground);
}

bool ChoiceBox::keyPressed(const juce::KeyPress& key) {
    using Key = juce::KeyPress;
    for (const auto opens : {Key::upKey, Key::downKey, Key::leftKey, Key::rightKey, Key::returnKey})
        if (key.isKeyCode(opens)) {
            showPopup();
            return true;
        }
    return false;
}

juce::Component* ChoiceBox::openList() const {
    return list && list->isVisible() ? list.get() : nullptr;
}

/// The list may be running at this moment: it goes when the next one is opened.
void ChoiceBox::closeList() {
    hidePopup();
    if (list)
        list->setVisible(false);
}

void ChoiceBox::parentHierarchyChanged() {
    juce::ComboBox::parentHierarchyChanged();
    if (list && findParentComponentOfClass<ListGround>() == nullptr)
        list->setVisible(false);
}

} // namespace headland::editor
