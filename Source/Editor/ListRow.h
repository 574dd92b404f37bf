// SPDX-License-Identifier: GPL-3.0-or-later
// The ground of a list's row: another shade where it is selected, and a frame where its list has the keyboard. Main thread.
#pragma once

#include "Editor/Look.h"

namespace headland::editor {

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
