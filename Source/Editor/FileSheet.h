// SPDX-License-Identifier: GPL-3.0-or-later
// A file is asked for, in the window itself: a line in which its path can be typed or pasted, and one Return takes it; below
// it what is in the folder, to be chosen with the arrow keys or the mouse; beside that what was chosen of late. It begins in the folder
// in which a file of the kind was chosen last. Main thread.
#pragma once

#include "Editor/LineEditor.h"
#include "Editor/Sheet.h"
#include "Editor/TextList.h"

#include <filesystem>
#include <string>
#include <vector>

namespace headland::editor {

struct FileQuestion {
    /// Something that can be taken without looking for it.
    struct Pick {
        std::string label, value;
    };

    std::string name;                  ///< "Open a program"
    std::vector<std::string> suffixes; ///< of the files that are shown, in small letters: ".wav"
    bool mayBeNew = false;   ///< a file that is not there is begun; the first suffix is put to its name
    bool writesOver = false; ///< a file that is there is asked about once more
    std::string picksName{}; ///< "Opened of late"
    std::vector<Pick> picks{};
    std::function<std::string(const std::string& path)> take{}; ///< returns why not, or nothing
};

class FileSheet final : public Sheet, private juce::KeyListener {
public:
    /// `folder`: where it begins; the folder of what is taken is put there. It must outlive the sheet.
    FileSheet(FileQuestion question, std::string& folder);
    ~FileSheet() override;

    void takeKeyboard() override;
    /// Takes a path as if it had been typed: goes into a folder, or takes a file.
    void enter(const std::string& path);
    const std::string& refusal() const noexcept { return refused; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    using Component::keyPressed;
    bool keyPressed(const juce::KeyPress& key, juce::Component* from) override;
    void goTo(const std::filesystem::path& wanted);
    void readFolder();
    void say(const std::string& sentence);
    void take(const std::string& value, const std::filesystem::path& from);

    FileQuestion question;
    std::string& remembered;
    std::filesystem::path folder;
    std::vector<std::filesystem::path> entries; ///< in the order of the lines
    LineEditor line;
    TextList files, picks;
    std::string refused, askedAbout;
};

} // namespace headland::editor
