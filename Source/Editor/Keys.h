// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a key was pressed, and what it is called on a button. Main thread.
#pragma once

#include "Editor/Cues.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

inline juce::String keyName(char key) {
    return key == escapeKey ? juce::String("Esc") : juce::String::charToString(key);
}

inline bool isKey(const juce::KeyPress& pressed, char key) {
    if (key == escapeKey)
        return pressed.isKeyCode(juce::KeyPress::escapeKey);
    return juce::CharacterFunctions::toUpperCase(static_cast<juce::juce_wchar>(pressed.getKeyCode()))
               == static_cast<juce::juce_wchar>(key)
           && !pressed.getModifiers().isCommandDown() && !pressed.getModifiers().isAltDown();
}

} // namespace headland::editor
