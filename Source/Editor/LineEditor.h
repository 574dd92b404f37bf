// SPDX-License-Identifier: GPL-3.0-or-later
// A field for text without a menu of its own, which would be modal and would take the first Escape; and Escape is told at
// once, where JUCE's own field leaves it for later. Main thread.
#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

class LineEditor final : public juce::TextEditor {
public:
    LineEditor() { setPopupMenuEnabled(false); }

    bool keyPressed(const juce::KeyPress& key) override {
        if (!key.isKeyCode(juce::KeyPress::escapeKey) || !onEscapeKey)
            return juce::TextEditor::keyPressed(key);
        onEscapeKey();
        return true;
    }
};

} // namespace headland::editor
