// SPDX-License-Identifier: GPL-3.0-or-later
// What is coming: time runs from the right towards a fixed cutting line, the preview on its right, what has been cut on
// its left. Above, in µm: the spacing each moment demands, the spacing the turns have or will have, and the carriage's
// pitch. Below, to the same scale of time: the groove's two edges around its centre line. Main thread.
#pragma once

#include "Editor/StripModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace headland::editor {

class ApproachStrip final : public juce::Component, public juce::SettableTooltipClient {
public:
    ApproachStrip();

    void show(const StripSight& sight);
    /// What is coming, in words: as it stands above the picture.
    const std::string& heading() const noexcept { return headline; }
    /// Called with the program time that somebody asked to look at: by click, drag or arrow keys.
    std::function<void(double time_s)> onPlace;

    void paint(juce::Graphics& g) override;
    void mouseDown(const juce::MouseEvent& event) override;
    void mouseDrag(const juce::MouseEvent& event) override;
    bool keyPressed(const juce::KeyPress& key) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    StripSight sight;
    std::string headline;
    juce::Image picture; ///< of the plot, at the screen's own pixels
    double draggedFrom_s = 0;
};

/// What stands above the strip.
std::string stripHeadline(const StripSight& sight);

} // namespace headland::editor
