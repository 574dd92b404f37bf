// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/PresetFile.h"

#include "Cut/SettingsTable.h"
#include "Files/Errors.h"
#include "Files/Json.h"
#include "Files/OutputFile.h"
#include "HeadlandPresets.h"
#include "Text/Safe.h"

#include <algorithm>
#include <filesystem>
#include <fstream>

namespace headland::files {

namespace {

namespace fs = std::filesystem;

constexpr std::size_t sizeMax_bytes = 1 << 20;

/// Takes one key and its value, or says what is wrong with them.
void readSetting(Preset& preset, const std::string& key, const Json& value, const std::string& where) {
    const auto problem = [&](const std::string& what) { preset.problems.push_back(where + ": " + what); };
    if (cut::findSetting(key) == nullptr)
        return problem("'" + text::printable(key)
                       + "' is not a setting; 'headland settings' lists them all.");
    const auto wantsText = key == "format";
    if (wantsText && !value.is_string())
        return problem("format must be text, such as \"30cm-33\".");
    if (!wantsText && !value.is_number())
        return problem(key + " must be a plain number, without quotes.");
    preset.settings.push_back({key, wantsText ? value.get<std::string>() : value.dump()});
}

/// Whether the version is one this tool reads.
void checkVersion(Preset& preset, const Json& root, const std::string& where) {
    const auto version = root.value("headland_preset", Json());
    if (!version.is_number())
        preset.problems.push_back(where + " is not a preset: \"headland_preset\": "
                                  + std::to_string(presetVersion) + " is missing.");
    else if (version > presetVersion)
        preset.problems.push_back(where + ": headland_preset is " + version.dump()
                                  + ", and this tool reads up to " + std::to_string(presetVersion)
                                  + "; use a newer headland.");
    else if (version != presetVersion)
        preset.problems.push_back(where + ": headland_preset is " + version.dump() + "; it must be "
                                  + std::to_string(presetVersion) + ".");
}

/// Takes the text member `key` if it is there.
std::string readText(Preset& preset, const Json& root, const char* key, const std::string& where) {
    const auto value = root.value(key, Json(""));
    if (value.is_string())
        return text::printable(value.get<std::string>());
    preset.problems.push_back(where + ": " + key + " must be text.");
    return {};
}

void readMembers(Preset& preset, const Json& root, const std::string& where) {
    for (const auto& [name, value] : root.items())
        if (name != "headland_preset" && name != "name" && name != "about" && name != "settings")
            preset.problems.push_back(where + ": '" + text::printable(name)
                                      + "' has no meaning beside name, about and settings; take it out.");
    preset.name = readText(preset, root, "name", where);
    preset.about = readText(preset, root, "about", where);
    const auto settings = root.value("settings", Json());
    if (!settings.is_object())
        return preset.problems.push_back(where + ": settings must be there, as {\"key\": value}.");
    for (const auto& [key, value] : settings.items())
        readSetting(preset, key, value, where);
}

Preset refused(const std::string& problem) {
    Preset preset;
    preset.problems.push_back(problem);
    return preset;
}

/// Place of the built-in preset in the program's list of resources, -1 when there is none.
int builtInIndex(const std::string& name) {
    for (int i = 0; i < presets::namedResourceListSize; ++i)
        if (fs::path(presets::originalFilenames[i]).stem() == name)
            return i;
    return -1;
}

Preset loadFile(const std::string& path) {
    const auto where = presetPlace(path);
    std::error_code error;
    if (!fs::exists(path, error))
        return refused("There is no preset '" + text::printable(path)
                       + "', neither built in ('headland presets' lists those) nor as a file.");
    if (!fs::is_regular_file(path, error))
        return refused(where + " is not a file.");
    std::ifstream file(path, std::ios::binary);
    std::string json(sizeMax_bytes + 1, '\0');
    file.read(json.data(), static_cast<std::streamsize>(json.size()));
    if (!file.is_open() || file.bad()) // what the system only makes up as a file may refuse to be read
        return refused(where + " cannot be read; check its permissions, and that it is an ordinary file.");
    json.resize(static_cast<std::size_t>(file.gcount()));
    return parsePreset(json, where);
}

} // namespace

Preset parsePreset(std::string_view json, const std::string& where) {
    if (json.size() > sizeMax_bytes)
        return refused(where + " is over a megabyte and no preset.");
    try {
        const auto root = readJson(json);
        if (!root.is_object())
            return refused(where + " is not a preset: it must be one {…}.");
        Preset preset;
        checkVersion(preset, root, where);
        if (preset.problems.empty()) // a newer version may mean anything by its members
            readMembers(preset, root, where);
        return preset;
    } catch (const JsonError& error) {
        return refused(where + " is not JSON: " + error.what() + ".");
    }
}

std::vector<std::string> builtInPresetNames() {
    std::vector<std::string> names;
    for (int i = 0; i < presets::namedResourceListSize; ++i)
        names.push_back(fs::path(presets::originalFilenames[i]).stem());
    std::sort(names.begin(), names.end());
    return names;
}

Preset loadPreset(const std::string& nameOrFile) {
    const auto index = builtInIndex(nameOrFile);
    if (index < 0)
        return loadFile(nameOrFile);
    auto size_bytes = 0;
    const auto* data = presets::getNamedResource(presets::namedResourceList[index], size_bytes);
    return parsePreset({data, static_cast<std::size_t>(size_bytes)}, presetPlace(nameOrFile));
}

std::vector<std::string> applyPreset(cut::CutSettings& settings, const Preset& preset,
                                     const std::string& where) {
    auto problems = preset.problems;
    auto ordered = preset.settings;
    std::stable_partition(ordered.begin(), ordered.end(),
                          [](const auto& value) { return value.key == "format"; });
    for (const auto& [key, text] : ordered)
        if (const auto problem = cut::setFromText(settings, key, text))
            problems.push_back(where + ": " + *problem);
    return problems;
}

std::string presetText(const cut::CutSettings& settings, const std::string& name, const std::string& about) {
    auto values = Json::object();
    for (const auto& setting : cut::settingsTable()) {
        const auto number = cut::getNumber(settings, setting);
        values[std::string(setting.key)] = setting.key == "format" ? Json(cut::getText(settings, setting))
                                           : setting.isWhole()     ? Json(static_cast<int>(number))
                                                                   : Json(number);
    }
    return reportText(
        {{"headland_preset", presetVersion}, {"name", name}, {"about", about}, {"settings", values}});
}

void writePreset(const std::string& path, const cut::CutSettings& settings, const std::string& name,
                 const std::string& about, const KeptFiles& kept) {
    OutputFile file(path, kept);
    const auto text = presetText(settings, name, about);
    cut::CutSettings again;
    const auto where = "preset file " + text::printable(path);
    if (const auto problems = applyPreset(again, parsePreset(text, where), where); !problems.empty())
        throw OutputError("The preset is not written, as it could not be read again: " + problems.front());
    file.write(text);
    file.commit();
}

std::string presetPlace(const std::string& nameOrFile) {
    return (builtInIndex(nameOrFile) < 0 ? "preset file " : "preset ") + text::printable(nameOrFile);
}

} // namespace headland::files
