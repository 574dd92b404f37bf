// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/FilePanel.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr int rowHeight = 30;

std::string lineOf(const FileState& file) {
    if (file.path.empty())
        return "No program is open: drop a WAV, AIFF, FLAC or Ogg Vorbis file here.";
    if (!file.running)
        return file.about;
    return std::to_string(static_cast<int>(100 * file.fraction)) + " % of " + file.about;
}

} // namespace

double speedOf(int choice) noexcept {
    return choice == 0 ? 1 : 0;
}

FilePanel::FilePanel(Access& a, std::function<void(const std::string&)> done)
    : access(a), onDone(std::move(done)) {
    setComponentID("file");
    open.setComponentID("open");
    open.onClick = [this] { chooseFile(); };
    go.setComponentID("go");
    go.onClick = [this] { startOrStop(); };
    speed.setComponentID("speed");
    speed.setTitle("How fast");
    speed.addItemList({"In real time", "As fast as possible"}, 1);
    speed.setSelectedItemIndex(0, juce::dontSendNotification);
    for (juce::Component* child : {static_cast<juce::Component*>(&open),
                                   static_cast<juce::Component*>(&speed), static_cast<juce::Component*>(&go)})
        addAndMakeVisible(child);
}

void FilePanel::chooseFile() {
    chooser = std::make_unique<juce::FileChooser>("Open a program", juce::File(toJuce(file.path)),
                                                  "*.wav;*.aiff;*.aif;*.flac;*.ogg");
    chooser->launchAsync(juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectFiles,
                         [this](const juce::FileChooser& chosen) {
                             if (chosen.getResult() != juce::File())
                                 onDone(access.openFile(chosen.getResult().getFullPathName().toStdString()));
                         });
}

void FilePanel::startOrStop() {
    if (!file.running)
        return onDone(access.cutFile(speedOf(speed.getSelectedItemIndex())));
    access.stopFile();
    onDone({});
}

void FilePanel::show(const Glimpse& glimpse) {
    file = glimpse.file;
    go.setButtonText(file.running ? "Stop, lift" : "Cut");
    go.setEnabled(file.running || (!file.path.empty() && glimpse.problems.empty()));
    open.setEnabled(!file.running);
    speed.setEnabled(!file.running);
    if (const auto wanted = lineOf(file); wanted != text) {
        text = wanted;
        setTitle(toJuce(text));
        repaint();
    }
}

void FilePanel::paint(juce::Graphics& g) {
    auto area = getLocalBounds().withTrimmedTop(rowHeight).toFloat();
    if (file.running) {
        const auto bar = area.removeFromBottom(5).reduced(0, 1);
        g.setColour(colour(palette::button));
        g.fillRect(bar);
        g.setColour(colour(palette::good));
        g.fillRect(bar.withWidth(bar.getWidth() * static_cast<float>(file.fraction)));
    }
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(text), area.reduced(4, 0), 15, juce::Justification::centredLeft);
}

void FilePanel::resized() {
    auto area = getLocalBounds().removeFromTop(rowHeight);
    const auto third = area.getWidth() / 3;
    open.setBounds(area.removeFromLeft(third).withTrimmedRight(4));
    speed.setBounds(area.removeFromLeft(third).withTrimmedRight(4));
    go.setBounds(area.withTrimmedRight(4));
}

} // namespace headland::editor
