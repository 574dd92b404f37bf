// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/KeepPanel.h"

#include "Editor/FileSheet.h"

#include <utility>

namespace headland::editor {

KeepPanel::KeepPanel(Access& a, Sheets& s, std::function<void(const std::string&)> done)
    : access(a), sheets(s), onDone(std::move(done)) {
    setComponentID("keep");
    load.setComponentID("load preset");
    load.onClick = [this] { loadPreset(); };
    save.setComponentID("save preset");
    save.onClick = [this] { savePreset(); };
    device.setComponentID("sound");
    device.onClick = [this] { chooseDevice(); };
    for (auto* button : {&load, &save})
        addAndMakeVisible(button);
    if (access.cutsFiles())
        addAndMakeVisible(device);
}

/// What was refused stays on the sheet; what was done is told.
std::string KeepPanel::told(const std::string& refusal) {
    if (refusal.empty())
        onDone({});
    return refusal;
}

void KeepPanel::loadPreset() {
    FileQuestion question{"Load a preset", {".json"}};
    question.picksName = "Built in";
    for (const auto& name : access.presetNames())
        question.picks.push_back({name, name});
    question.take = [this](const std::string& nameOrFile) { return told(access.loadPreset(nameOrFile)); };
    sheets.open(std::make_unique<FileSheet>(std::move(question), access.folderOf("preset")));
}

void KeepPanel::savePreset() {
    FileQuestion question{"Save the set-up as a preset: name a file", {".json"}};
    question.mayBeNew = question.writesOver = true;
    question.take = [this](const std::string& file) { return told(access.savePreset(file)); };
    sheets.open(std::make_unique<FileSheet>(std::move(question), access.folderOf("preset")));
}

void KeepPanel::chooseDevice() {
    if (auto content = access.makeDeviceChooser())
        sheets.open(std::make_unique<Sheet>("Sound device", std::move(content)));
}

void KeepPanel::resized() {
    auto area = getLocalBounds();
    const auto width = area.getWidth() / (device.isVisible() ? 3 : 2);
    for (auto* button : {&load, &save, &device})
        button->setBounds(area.removeFromLeft(width).withTrimmedRight(4));
}

} // namespace headland::editor
