// SPDX-License-Identifier: GPL-3.0-or-later
// The editor a host shows: the desk, laid out for at least 900 x 600 and scaled to whatever size the window has. Main
// thread.
#pragma once

#include "Editor/Desk.h"

namespace headland::editor {

class Window final : public juce::AudioProcessorEditor {
public:
    static constexpr int widthLeast = 900, heightLeast = 600;

    /// `access` must outlive the window.
    Window(juce::AudioProcessor& processor, Access& access);

    Desk& desk() noexcept { return content; }

    /// The cues have their keys wherever the keyboard is.
    bool keyPressed(const juce::KeyPress& key) override { return content.keyPressed(key); }
    void paint(juce::Graphics&) override {} // the desk covers all of it
    void resized() override;

private:
    Desk content;
};

} // namespace headland::editor
