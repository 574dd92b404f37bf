// SPDX-License-Identifier: GPL-3.0-or-later
// One line of what was done or refused, beside where it happened. Main thread.
#pragma once

#include "Editor/Look.h"

namespace headland::editor {

class NoticeLine final : public juce::Component {
public:
    NoticeLine() {
        setComponentID("notice");
        setInterceptsMouseClicks(false, false);
    }

    /// Nothing: nothing is shown.
    void show(const std::string& notice) {
        if (notice == text)
            return;
        text = notice;
        setTitle(toJuce(text));
        repaint();
    }
    const std::string& shown() const noexcept { return text; }

    void paint(juce::Graphics& g) override {
        constexpr float letters = 15;
        g.setColour(colour(palette::text));
        drawWhole(g, toJuce(text), getLocalBounds().toFloat().reduced(4, 0), letters,
                  juce::Justification::centredLeft);
    }
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override {
        return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::staticText);
    }

private:
    std::string text;
};

} // namespace headland::editor
