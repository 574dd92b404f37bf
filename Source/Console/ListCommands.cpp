// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/ListCommands.h"

#include "Console/SummaryText.h"
#include "Cut/SettingsTable.h"
#include "Files/PresetFile.h"
#include "Text/Figures.h"

#include <ostream>

namespace headland::console {

using text::plain;

namespace {

constexpr std::size_t columns = 100;
constexpr std::size_t indent = 4;

std::string indented(const std::string& text) {
    return wrapped(std::string(indent, ' ') + text, columns, indent) + "\n";
}

/// "default 12 µm, from 0 to 200"; for the format, its keys.
std::string valuesText(const cut::Setting& setting) {
    const cut::CutSettings defaults;
    if (setting.key == "format") {
        std::string keys;
        for (const auto& format : disc::formats())
            keys += (keys.empty() ? "" : ", ") + std::string(format.key);
        return "default " + cut::getText(defaults, setting) + ", one of " + keys;
    }
    const auto unit = setting.unit.empty() ? "" : " " + std::string(setting.unit);
    return "default " + plain(cut::getNumber(defaults, setting)) + unit + ", from " + plain(setting.least)
           + " to " + plain(setting.greatest);
}

} // namespace

void settingsCommand(std::ostream& out) {
    out << "Settings, as in --set KEY=VALUE, presets and JSON:\n";
    for (const auto& setting : cut::settingsTable())
        out << "\n"
            << setting.key << "  (" << valuesText(setting) << ")\n"
            << indented(std::string(setting.does)) << indented("Default: " + std::string(setting.reason));
}

void presetsCommand(std::ostream& out) {
    out << "Presets, as in --preset NAME; a path to a file of your own will do as well:\n";
    for (const auto& name : files::builtInPresetNames()) {
        const auto preset = files::loadPreset(name);
        std::string values;
        for (const auto& [key, text] : preset.settings)
            values += (values.empty() ? "" : ", ") + key + "=" + text;
        out << "\n"
            << name << "  (" << preset.name << ")\n"
            << indented(preset.about) << indented("Sets " + values);
    }
}

} // namespace headland::console
