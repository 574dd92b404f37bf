// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/KeepPanel.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr int rowHeight = 30;
constexpr auto ofPresets = "*.json";

} // namespace

KeepPanel::KeepPanel(Access& a, std::function<void(const std::string&)> done)
    : access(a), onDone(std::move(done)) {
    setComponentID("keep");
    load.onClick = [this] { offerPresets(); };
    save.onClick = [this] { choosePreset(true); };
    log.onClick = [this] { chooseFolder(); };
    device.onClick = [this] { chooseDevice(); };
    for (auto* button : {&load, &save, &log})
        addAndMakeVisible(button);
    if (access.cutsFiles())
        addAndMakeVisible(device);
}

void KeepPanel::offerPresets() {
    juce::PopupMenu menu;
    const auto names = access.presetNames();
    for (const auto& name : names)
        menu.addItem(toJuce(name), [this, name] { onDone(access.loadPreset(name)); });
    menu.addSeparator();
    menu.addItem("From a file...", [this] { choosePreset(false); });
    menu.showMenuAsync(juce::PopupMenu::Options().withTargetComponent(load).withDeletionCheck(*this));
}

void KeepPanel::choosePreset(bool toSave) {
    using Browser = juce::FileBrowserComponent;
    chooser = std::make_unique<juce::FileChooser>(toSave ? "Save the set-up as a preset" : "Load a preset",
                                                  juce::File(), ofPresets);
    const auto flags = toSave ? Browser::saveMode | Browser::canSelectFiles | Browser::warnAboutOverwriting
                              : Browser::openMode | Browser::canSelectFiles;
    chooser->launchAsync(flags, [this, toSave](const juce::FileChooser& chosen) {
        const auto file = chosen.getResult();
        if (file == juce::File())
            return;
        onDone(toSave ? access.savePreset(file.withFileExtension("json").getFullPathName().toStdString())
                      : access.loadPreset(file.getFullPathName().toStdString()));
    });
}

void KeepPanel::chooseFolder() {
    chooser = std::make_unique<juce::FileChooser>("The folder of the log");
    chooser->launchAsync(juce::FileBrowserComponent::openMode
                             | juce::FileBrowserComponent::canSelectDirectories,
                         [this](const juce::FileChooser& chosen) {
                             if (chosen.getResult() != juce::File())
                                 onDone(access.logInto(chosen.getResult().getFullPathName().toStdString()));
                         });
}

void KeepPanel::chooseDevice() {
    auto content = access.makeDeviceChooser();
    if (content == nullptr)
        return;
    juce::DialogWindow::LaunchOptions options;
    options.content.setOwned(content.release());
    options.dialogTitle = "Sound device";
    options.dialogBackgroundColour = colour(palette::ground);
    options.componentToCentreAround = this;
    options.useNativeTitleBar = true;
    options.launchAsync();
}

void KeepPanel::show(const Glimpse& glimpse) {
    const auto wanted = glimpse.logFolder.empty() ? std::string("No log is kept: choose a folder for it.")
                                                  : "Every cut is logged into " + glimpse.logFolder;
    if (wanted == text)
        return;
    text = wanted;
    setTitle(toJuce(text));
    repaint();
}

void KeepPanel::paint(juce::Graphics& g) {
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(text), getLocalBounds().withTrimmedTop(rowHeight).toFloat().reduced(4, 0), 14,
              juce::Justification::centredLeft);
}

void KeepPanel::resized() {
    auto area = getLocalBounds().removeFromTop(rowHeight);
    const auto buttons = device.isVisible() ? 4 : 3;
    const auto width = area.getWidth() / buttons;
    for (auto* button : {&load, &save, &log, &device})
        button->setBounds(area.removeFromLeft(width).withTrimmedRight(4));
}

} // namespace headland::editor
