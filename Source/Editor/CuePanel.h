// SPDX-License-Identifier: GPL-3.0-or-later
// What the stylus does, and the buttons that tell it what to do, each with its key on it. Main thread.
#pragma once

#include "Editor/Access.h"
#include "Editor/Cues.h"
#include "Editor/Keystrokes.h"

#include <array>

namespace headland::editor {

class CuePanel final : public juce::Component {
public:
    explicit CuePanel(std::function<void(cut::Cue)> onCue);

    void show(const Glimpse& glimpse, const Keystrokes& strokes);
    /// Gives the cue of this key when that is sure to be meant, if its button is enabled. False: it is nobody's key.
    bool press(const juce::KeyPress& key, Keystrokes& strokes, double now_ms);

    const std::string& state() const noexcept { return stateLine; }
    bool isScrap() const noexcept { return scrap; }

    void resized() override;

private:
    std::function<void(cut::Cue)> onCue;
    std::array<juce::TextButton, cut::cueCount> buttons;
    std::string stateLine;
    bool scrap = false;
};

} // namespace headland::editor
