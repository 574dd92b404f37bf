// SPDX-License-Identifier: GPL-3.0-or-later
// Where a processor cuts program files by itself: open one, choose how fast, cut, stop. Main thread.
#pragma once

#include "Editor/Access.h"

namespace headland::editor {

class FilePanel final : public juce::Component {
public:
    /// `onDone` gets what was refused, or nothing, after every deed.
    FilePanel(Access& access, std::function<void(const std::string&)> onDone);

    void show(const Glimpse& glimpse);
    const std::string& shown() const noexcept { return text; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void chooseFile();
    void startOrStop();

    Access& access;
    std::function<void(const std::string&)> onDone;
    std::unique_ptr<juce::FileChooser> chooser;
    juce::TextButton open{"Open program..."}, go{"Cut"};
    juce::ComboBox speed;
    FileState file;
    std::string text;
};

/// Times real time, of the choices offered; 0: as fast as the machine allows.
double speedOf(int choice) noexcept;

} // namespace headland::editor
