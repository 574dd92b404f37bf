// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Keystrokes.h"

#include <utility>

namespace headland::editor {

bool isCharacter(const juce::KeyPress& key) {
    constexpr int blank = 32, lastOfAscii = 126;
    const auto modifiers = key.getModifiers();
    if (modifiers.isCommandDown() || modifiers.isCtrlDown() || modifiers.isAltDown())
        return false;
    const auto code = key.getKeyCode();
    return key.getTextCharacter() >= blank || (code >= blank && code <= lastOfAscii);
}

int capitalOf(const juce::KeyPress& key) {
    return static_cast<int>(
        juce::CharacterFunctions::toUpperCase(static_cast<juce::juce_wchar>(key.getKeyCode())));
}

/// Keys repeat while they are held, and not every system says when one is let go.
bool Keystrokes::isHeld(int key, double now_ms) {
    const auto repeats = held && held->key == key
                         && (held->released_ms ? now_ms - *held->released_ms < bounce_ms
                                               : now_ms - held->pressed_ms < held_ms);
    held = Held{key, now_ms, std::nullopt};
    return repeats;
}

bool Keystrokes::press(const juce::KeyPress& key, double now_ms) {
    settle(now_ms);
    const auto pressed = capitalOf(key);
    if (isHeld(pressed, now_ms)) {
        if (isCharacter(key))
            last.at_ms = now_ms;
        return false;
    }
    const auto isSoon = now_ms - last.at_ms < alone_ms;
    if (!isCharacter(key)) {
        if (isSoon && isTyping) // a backspace, a Return
            return false;
        armed.reset();
        return true;
    }
    isTyping = isSoon && (isTyping || pressed != last.key);
    last = {pressed, now_ms};
    if (!isTyping)
        return true;
    armed.reset();
    waiting.reset();
    return false;
}

void Keystrokes::command(const juce::KeyPress& key, Kind kind, std::function<void()> deed, double now_ms) {
    const auto pressed = capitalOf(key);
    if (kind == Kind::view)
        return deed();
    if (kind == Kind::deliberate && !key.getModifiers().isShiftDown()) {
        const auto isSecond = armed && armed->key == pressed; // and not too late, or settle() had dropped it
        armed.reset();
        if (!isSecond && !waiting) {
            armed = Press{pressed, now_ms};
            return;
        }
    }
    if (kind == Kind::deliberate && waiting)
        return; // once is enough, however often it is pressed
    if (!waiting)
        waiting = Waiting{pressed, now_ms, {}};
    waiting->since_ms = now_ms;
    waiting->deeds.push_back(std::move(deed));
}

void Keystrokes::settle(double now_ms) {
    if (armed && now_ms - armed->at_ms > second_ms)
        armed.reset();
    if (!waiting || now_ms - waiting->since_ms < alone_ms)
        return;
    const auto due = std::exchange(waiting, std::nullopt);
    for (const auto& deed : due->deeds)
        deed();
}

void Keystrokes::released(const std::function<bool(int keyCode)>& isDown, double now_ms) {
    if (!held || held->released_ms)
        return;
    const auto small = juce::CharacterFunctions::toLowerCase(static_cast<juce::juce_wchar>(held->key));
    if (!isDown(held->key) && !isDown(static_cast<int>(small)))
        held->released_ms = now_ms;
}

void Keystrokes::forget() {
    armed.reset();
    waiting.reset();
}

Keystrokes::Standing Keystrokes::standing(char key) const {
    if (waiting && waiting->key == key)
        return Standing::waiting;
    return armed && armed->key == key ? Standing::armed : Standing::idle;
}

} // namespace headland::editor
