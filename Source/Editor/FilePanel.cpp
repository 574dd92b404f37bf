// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/FilePanel.h"

#include "Editor/FileSheet.h"
#include "Editor/Keys.h"
#include "Editor/Look.h"
#include "Editor/Words.h"
#include "Text/Safe.h"

#include <filesystem>
#include <utility>

namespace headland::editor {

namespace {

constexpr int buttonWidth = 116, speedWidth = 150, fileGap = 4;

std::string lineOf(const FileState& file) {
    if (file.path.empty())
        return "No program is open: drop a WAV, AIFF, CAF or FLAC file here.";
    if (!file.running)
        return file.about;
    return (file.paused ? "Held at " : "") + std::to_string(static_cast<int>(100 * file.fraction)) + " % of "
           + file.about;
}

} // namespace

FilePanel::FilePanel(Access& a, Sheets& s, std::function<void(const std::string&)> done)
    : access(a), sheets(s), onDone(std::move(done)) {
    setComponentID("file");
    open.setComponentID("open");
    open.setTooltip("Opens a program file, or one that was open of late.");
    open.onClick = [this] { chooseFile(); };
    go.setComponentID("go");
    go.setTooltip("Lowers the stylus and cuts the program: click, or press Shift and C, or C twice.");
    go.setWantsKeyboardFocus(false); // Return, meant for something else, must not press it
    go.onClick = [this] { startOrStop(); };
    hold.setComponentID("hold");
    hold.setTooltip("Holds the cut where it is, as no lathe can, to study it.");
    hold.onClick = [this] { holdOrGoOn(); };
    speed.setComponentID("speed");
    speed.setTitle("How fast");
    for (std::size_t i = 0; i < fileSpeeds.size(); ++i)
        speed.addItem(fileSpeeds[i].label, static_cast<int>(i) + 1);
    speed.setSelectedItemIndex(0, juce::dontSendNotification);
    speed.onChange = [this] {
        access.setFileSpeed(fileSpeeds[static_cast<std::size_t>(speed.getSelectedItemIndex())].speed);
        onDone({});
    };
    for (juce::Component* child : std::initializer_list<juce::Component*>{&open, &speed, &go, &hold})
        addAndMakeVisible(child);
}

void FilePanel::chooseFile() {
    FileQuestion question{"Open a program",
                          {".wav", ".rf64", ".w64", ".aiff", ".aif", ".aifc", ".caf", ".flac"}};
    question.picksName = "Opened of late";
    for (const auto& path : access.recentFiles())
        question.picks.push_back({text::printable(std::filesystem::path(path).filename().string()), path});
    question.take = [this](const std::string& path) {
        const auto refusal = access.openFile(path);
        if (refusal.empty())
            onDone({});
        return refusal;
    };
    sheets.open(std::make_unique<FileSheet>(std::move(question), access.folderOf("program")));
}

void FilePanel::startOrStop() {
    if (!file.running)
        return onDone(
            access.cutFile(fileSpeeds[static_cast<std::size_t>(speed.getSelectedItemIndex())].speed));
    access.stopFile();
    onDone({});
}

void FilePanel::holdOrGoOn() {
    access.pauseFile(!file.paused);
    onDone({});
}

bool FilePanel::press(const juce::KeyPress& key, Keystrokes& strokes, double now_ms) {
    const auto isCut = isKey(key, cutKey) && !file.running;
    const auto isHold = key.isKeyCode(juce::KeyPress::spaceKey);
    if (isCut && go.isEnabled())
        strokes.command(
            key, Keystrokes::Kind::deliberate,
            [this] {
                if (go.isEnabled() && !file.running)
                    startOrStop();
            },
            now_ms);
    if (isHold && hold.isEnabled())
        holdOrGoOn();
    return isCut || isHold;
}

void FilePanel::show(const Glimpse& glimpse, const Keystrokes& strokes) {
    file = glimpse.file;
    go.setButtonText(file.running ? juce::String("Stop, lift")
                                  : deliberateText("Cut", cutKey, strokes.standing(cutKey)));
    go.setEnabled(file.running || (!file.path.empty() && glimpse.problems.empty()));
    hold.setButtonText(file.paused ? "Go on [Space]" : "Hold [Space]");
    hold.setEnabled(file.running);
    open.setEnabled(!file.running);
    for (std::size_t i = 0; i < fileSpeeds.size(); ++i)
        if (fileSpeeds[i].speed == file.speed)
            speed.setSelectedItemIndex(static_cast<int>(i), juce::dontSendNotification);
    const auto wanted = told.empty() ? lineOf(file) : told;
    const auto wantedBelow = file.path.empty() ? std::string() : notKeptText(glimpse);
    if (wanted == text && wantedBelow == notKept)
        return;
    text = wanted;
    notKept = wantedBelow;
    setTitle(toJuce(text + (notKept.empty() ? "" : " " + notKept)));
    repaint();
}

/// Shown with the next look.
void FilePanel::tell(const std::string& notice) {
    told = notice;
}

void FilePanel::paint(juce::Graphics& g) {
    auto area = getLocalBounds().withTrimmedLeft(3 * buttonWidth + speedWidth + 4 * fileGap).toFloat();
    if (file.running) {
        const auto bar = area.removeFromBottom(5).reduced(0, 1);
        g.setColour(colour(palette::button));
        g.fillRect(bar);
        g.setColour(colour(palette::good));
        g.fillRect(bar.withWidth(bar.getWidth() * static_cast<float>(file.fraction)));
    }
    if (!notKept.empty()) {
        g.setColour(colour(palette::caution));
        drawWhole(g, toJuce(notKept), area.removeFromBottom(area.getHeight() / 2).reduced(4, 0), 14,
                  juce::Justification::centredLeft, true);
    }
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(text), area.reduced(4, 0), 15, juce::Justification::centredLeft);
}

void FilePanel::resized() {
    auto area = getLocalBounds();
    const auto place = [&area](juce::Component& part, int width) {
        part.setBounds(area.removeFromLeft(width));
        area.removeFromLeft(fileGap);
    };
    place(open, buttonWidth);
    place(speed, speedWidth);
    place(go, buttonWidth);
    place(hold, buttonWidth);
}

} // namespace headland::editor
