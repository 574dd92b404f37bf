// SPDX-License-Identifier: GPL-3.0-or-later
// Says that keys do not reach the window, so that nobody relies on Escape when it would go elsewhere, and gets them back by
// a click. Main thread.
#pragma once

#include "Editor/Look.h"

namespace headland::editor {

class KeysNotice final : public juce::Component {
public:
    /// `to`: who has the keys instead, "the host".
    explicit KeysNotice(const juce::String& to) {
        setComponentID("keys elsewhere");
        setTitle("Keys go to " + to + ": click here. Until then Escape does not lift; the button Lift does.");
        setMouseCursor(juce::MouseCursor::PointingHandCursor);
    }

    std::function<void()> onClick;

    void mouseDown(const juce::MouseEvent&) override {
        if (onClick)
            onClick();
    }
    void paint(juce::Graphics& g) override {
        g.fillAll(colour(palette::caution));
        g.setColour(colour(palette::ground));
        drawWhole(g, getTitle(), getLocalBounds().toFloat().reduced(8, 0), 17, juce::Justification::centred,
                  true);
    }
};

} // namespace headland::editor
