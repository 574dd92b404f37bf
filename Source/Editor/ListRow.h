// SPDX-License-Identifier: GPL-3.0-or-later
// A list of rows, and the ground of a row: another shade where it is selected, and a frame where its list has the keyboard.
// Main thread.
#pragma once

#include "Editor/Look.h"

#include <functional>

namespace headland::editor {

/// A list in which Delete is told, and Backspace is left to the window.
class RowList final : public juce::ListBox {
public:
    std::function<void()> onDelete;

    bool keyPressed(const juce::KeyPress& key) override {
        if (key.isKeyCode(juce::KeyPress::backspaceKey))
            return false;
        if (!key.isKeyCode(juce::KeyPress::deleteKey))
            return ListBox::keyPressed(key);
        if (onDelete)
            onDelete();
        return onDelete != nullptr;
    }
};

/// Returns the row's whole area.
inline juce::Rectangle<float> drawRowGround(juce::Graphics& g, const juce::ListBox& list, int width,
                                            int height, bool isSelected) {
    const juce::Rectangle<float> area(0, 0, static_cast<float>(width), static_cast<float>(height));
    if (isSelected) {
        g.setColour(colour(palette::button));
        g.fillRect(area);
        if (list.hasKeyboardFocus(true))
            drawFocus(g, area);
    }
    return area;
}

} // namespace headland::editor
