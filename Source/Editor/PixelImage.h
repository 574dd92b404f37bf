// SPDX-License-Identifier: GPL-3.0-or-later
// Draws an image that was made at the screen's own pixels so that its pixels fall on the screen's: then it is copied; half a
// pixel beside them it would be resampled, which costs ten times as much and blurs. Main thread.
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

/// `where`: in the component's own measure; it is moved by less than a pixel. `scale`: pixels to a point, as the context has it.
inline void drawPixels(juce::Graphics& g, const juce::Image& image, const juce::Component& component,
                       juce::Point<float> where, float scale) {
    const auto* top = component.getTopLevelComponent();
    const auto unit = top->getLocalPoint(&component, juce::Point<float>(1, 0))
                          .getDistanceFrom(top->getLocalPoint(&component, juce::Point<float>(0, 0)));
    const auto onScreen = top->getLocalPoint(&component, where) * (scale / std::max(1e-6f, unit));
    constexpr float above = 0.05f; // JUCE takes up to an eighth of a pixel more for none, but not a hair less
    const juce::Point<float> beside(onScreen.x - std::round(onScreen.x) - above,
                                    onScreen.y - std::round(onScreen.y) - above);
    g.drawImageTransformed(image, juce::AffineTransform::scale(1 / scale).translated(where - beside / scale));
}

} // namespace headland::editor
