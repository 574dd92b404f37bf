// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/KeepPanel.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr auto ofPresets = "*.json";

} // namespace

KeepPanel::KeepPanel(Access& a, std::function<void(const std::string&)> done)
    : access(a), onDone(std::move(done)) {
    setComponentID("keep");
    load.onClick = [this] { offerPresets(); };
    save.onClick = [this] { choosePreset(true); };
    device.onClick = [this] { chooseDevice(); };
    for (auto* button : {&load, &save})
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

void KeepPanel::resized() {
    auto area = getLocalBounds();
    const auto width = area.getWidth() / (device.isVisible() ? 3 : 2);
    for (auto* button : {&load, &save, &device})
        button->setBounds(area.removeFromLeft(width).withTrimmedRight(4));
}

} // namespace headland::editor
