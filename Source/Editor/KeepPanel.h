// SPDX-License-Identifier: GPL-3.0-or-later
// Presets loaded and saved; and where there is one, the choice of a sound device. Main thread.
#pragma once

#include "Editor/Access.h"
#include "Editor/Sheet.h"

namespace headland::editor {

class KeepPanel final : public juce::Component {
public:
    /// `onDone` gets what was refused, or nothing, after every deed.
    KeepPanel(Access& access, Sheets& sheets, std::function<void(const std::string&)> onDone);

    void resized() override;

private:
    void loadPreset();
    void savePreset();
    void chooseDevice();
    std::string told(const std::string& refusal);

    Access& access;
    Sheets& sheets;
    std::function<void(const std::string&)> onDone;
    juce::TextButton load{"Load preset..."}, save{"Save preset..."}, device{"Sound..."};
};

} // namespace headland::editor
