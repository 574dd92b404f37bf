// SPDX-License-Identifier: GPL-3.0-or-later
// A program file: opened (also by dropping, or one of the last), cut in real time, faster or as fast as possible, held, stopped.
// Only where the processor cuts files by itself. Main thread.
#pragma once

#include "Editor/Access.h"
#include "Editor/ChoiceBox.h"
#include "Editor/Keystrokes.h"
#include "Editor/Sheet.h"

#include <array>

namespace headland::editor {

/// How fast a file is cut: label and times real time; 0: as fast as the machine allows.
struct FileSpeed {
    const char* label;
    double speed;
};
inline constexpr std::array fileSpeeds{FileSpeed{"In real time", 1}, FileSpeed{"2 times as fast", 2},
                                       FileSpeed{"5 times as fast", 5}, FileSpeed{"20 times as fast", 20},
                                       FileSpeed{"As fast as possible", 0}};

class FilePanel final : public juce::Component {
public:
    /// `onDone` gets what was refused, or nothing, after every deed.
    FilePanel(Access& access, Sheets& sheets, std::function<void(const std::string&)> onDone);

    void show(const Glimpse& glimpse, const Keystrokes& strokes);
    /// Cuts when that is sure to be meant, or holds a cut, if it is the key for that. False: it is not.
    bool press(const juce::KeyPress& key, Keystrokes& strokes, double now_ms);
    /// What was refused here, in words, instead of the line; nothing: nothing was.
    void tell(const std::string& notice);
    const std::string& shown() const noexcept { return text; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void chooseFile();
    void startOrStop();
    void holdOrGoOn();

    Access& access;
    Sheets& sheets;
    std::function<void(const std::string&)> onDone;
    juce::TextButton open{"Open program..."}, go, hold;
    ChoiceBox speed;
    FileState file;
    std::string text, told;
    std::string notKept; ///< below the line
};

} // namespace headland::editor
