// SPDX-License-Identifier: GPL-3.0-or-later
// What is kept: presets loaded and saved, the folder of the log; and where there is one, the choice of a sound device.
// Main thread.
#pragma once

#include "Editor/Access.h"

namespace headland::editor {

class KeepPanel final : public juce::Component {
public:
    /// `onDone` gets what was refused, or nothing, after every deed.
    KeepPanel(Access& access, std::function<void(const std::string&)> onDone);

    void show(const Glimpse& glimpse);
    const std::string& shown() const noexcept { return text; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void offerPresets();
    void choosePreset(bool toSave);
    void chooseFolder();
    void chooseDevice();

    Access& access;
    std::function<void(const std::string&)> onDone;
    std::unique_ptr<juce::FileChooser> chooser;
    juce::TextButton load{"Load preset..."}, save{"Save preset..."}, log{"Log into..."}, device{"Sound..."};
    std::string text;
};

} // namespace headland::editor
