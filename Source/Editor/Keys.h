// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a key was pressed, and what it is called on a button. Main thread.
#pragma once

#include "Editor/Cues.h"
#include "Editor/Keystrokes.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

inline juce::String keyName(char key) {
    return key == escapeKey ? juce::String("Esc") : juce::String::charToString(key);
}

inline bool isKey(const juce::KeyPress& pressed, char key) {
    if (key == escapeKey)
        return pressed.isKeyCode(juce::KeyPress::escapeKey);
    return capitalOf(pressed) == key && !pressed.getModifiers().isCommandDown()
           && !pressed.getModifiers().isAltDown();
}

/// With the key of undo and its like held: Ctrl, on macOS Cmd.
inline bool isCommandKey(const juce::KeyPress& pressed, char key) {
    return capitalOf(pressed) == key && pressed.getModifiers().isCommandDown()
           && !pressed.getModifiers().isAltDown();
}

#if JUCE_MAC
inline constexpr auto commandName = "Cmd+";
#else
inline constexpr auto commandName = "Ctrl+";
#endif

/// What stands on the button of something that moves the lathe or drops the stylus.
inline juce::String deliberateText(const juce::String& label, char key, Keystrokes::Standing standing) {
    switch (standing) {
    case Keystrokes::Standing::armed:
        return label + ": press " + keyName(key) + " again";
    case Keystrokes::Standing::waiting:
        return label + " ...";
    case Keystrokes::Standing::idle:
        break;
    }
    return label + " [Shift+" + keyName(key) + "]";
}

} // namespace headland::editor
