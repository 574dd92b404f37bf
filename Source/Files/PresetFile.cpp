// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/PresetFile.h"

#include "Cut/SettingsTable.h"
#include "Files/Errors.h"
#include "Files/OutputFile.h"
#include "HeadlandPresets.h"
#include "Text/Safe.h"

#include <juce_core/juce_core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace headland::files {

namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t sizeMax_bytes = 1 << 20;
constexpr auto bracketsMax = 100; // JUCE's reader calls itself at every bracket; a preset needs two

/// A JSON number as text that reads back to the same bits.
std::string shortest(double value) {
    std::array<char, 40> text{};
    return {text.data(), std::to_chars(text.data(), text.data() + text.size(), value).ptr};
}

/// The same, such that JUCE's reader of JSON gives the same bits: of a long number that begins with zeros it drops the
/// last figures, which it does not do if there is an exponent.
std::string jsonNumber(double value) {
    const auto text = shortest(value);
    if (static_cast<double>(juce::JSON::fromString(juce::String(text))) == value)
        return text;
    std::array<char, 40> withExponent{};
    auto* const end = withExponent.data() + withExponent.size();
    return {withExponent.data(),
            std::to_chars(withExponent.data(), end, value, std::chars_format::scientific).ptr};
}

bool isNumber(const juce::var& value) {
    return value.isInt() || value.isInt64() || value.isDouble();
}

/// Takes one key and its value, or says what is wrong with them.
void readSetting(Preset& preset, const std::string& key, const juce::var& value, const std::string& where) {
    const auto problem = [&](const std::string& what) { preset.problems.push_back(where + ": " + what); };
    if (cut::findSetting(key) == nullptr)
        return problem("'" + text::printable(key)
                       + "' is not a setting; 'headland settings' lists them all.");
    const auto wantsText = key == "format";
    if (wantsText && !value.isString())
        return problem("format must be text, such as \"30cm-33\".");
    if (!wantsText && !isNumber(value))
        return problem(key + " must be a plain number, without quotes.");
    preset.settings.push_back({key, wantsText ? value.toString().toStdString() : shortest(value)});
}

/// Whether the version is one this tool reads.
void checkVersion(Preset& preset, const juce::var& version, const std::string& where) {
    if (!isNumber(version))
        preset.problems.push_back(where + " is not a preset: \"headland_preset\": "
                                  + std::to_string(presetVersion) + " is missing.");
    else if (static_cast<double>(version) > presetVersion)
        preset.problems.push_back(where + ": headland_preset is " + version.toString().toStdString()
                                  + ", and this tool reads up to " + std::to_string(presetVersion)
                                  + "; use a newer headland.");
    else if (static_cast<double>(version) != presetVersion)
        preset.problems.push_back(where + ": headland_preset is " + version.toString().toStdString()
                                  + "; it must be " + std::to_string(presetVersion) + ".");
}

/// Takes the text member `key` if it is there.
std::string readText(Preset& preset, const juce::var& value, const char* key, const std::string& where) {
    if (!value.isString() && !value.isVoid())
        preset.problems.push_back(where + ": " + key + " must be text.");
    return text::printable(value.toString().toStdString());
}

void readMembers(Preset& preset, const juce::DynamicObject& object, const std::string& where) {
    const auto& members = const_cast<juce::DynamicObject&>(object).getProperties();
    for (const auto& [name, value] : members)
        if (name.toString() != "headland_preset" && name.toString() != "name" && name.toString() != "about"
            && name.toString() != "settings")
            preset.problems.push_back(where + ": '" + text::printable(name.toString().toStdString())
                                      + "' has no meaning beside name, about and settings; take it out.");
    preset.name = readText(preset, members["name"], "name", where);
    preset.about = readText(preset, members["about"], "about", where);
    auto* settings = members["settings"].getDynamicObject();
    if (settings == nullptr) {
        preset.problems.push_back(where + ": settings must be there, as {\"key\": value}.");
        return;
    }
    for (const auto& [key, value] : settings->getProperties())
        readSetting(preset, key.toString().toStdString(), value, where);
}

/// Text as a JSON string, in its quotes.
std::string quoted(const std::string& text) {
    return juce::JSON::toString(juce::var(juce::String::fromUTF8(text::printable(text).c_str())))
        .toStdString();
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
    if (!file)
        return refused(where + " cannot be read; check its permissions.");
    if (fs::file_size(path, error) > sizeMax_bytes)
        return refused(where + " is over a megabyte and no preset.");
    return parsePreset({std::istreambuf_iterator<char>(file), {}}, where);
}

} // namespace

Preset parsePreset(const std::string& json, const std::string& where) {
    const auto brackets =
        std::count(json.begin(), json.end(), '[') + std::count(json.begin(), json.end(), '{');
    if (brackets > bracketsMax
        || !juce::CharPointer_UTF8::isValidString(json.data(), static_cast<int>(json.size())))
        return refused(where + " is not a preset: too deep for one, or not UTF-8 text.");
    juce::var parsed;
    const auto outcome =
        juce::JSON::parse(juce::String::fromUTF8(json.data(), static_cast<int>(json.size())), parsed);
    if (outcome.failed())
        return refused(where + " is not JSON (line:column "
                       + text::printable(outcome.getErrorMessage().toStdString()) + ").");
    const auto* object = parsed.getDynamicObject();
    if (object == nullptr)
        return refused(where + " is not a preset: it must be one {…}.");
    Preset preset;
    checkVersion(preset, object->getProperty("headland_preset"), where);
    if (preset.problems.empty()) // a newer version may mean anything by its members
        readMembers(preset, *object, where);
    return preset;
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
    std::string
        members; // put together here: JUCE's writer of numbers keeps 15 figures, a setting can need 17
    for (const auto& setting : cut::settingsTable())
        members += (members.empty() ? "" : ",\n") + std::string(8, ' ') + quoted(std::string(setting.key))
                   + ": "
                   + (setting.key == "format" ? quoted(cut::getText(settings, setting))
                                              : jsonNumber(cut::getNumber(settings, setting)));
    return "{\n    \"headland_preset\": " + std::to_string(presetVersion) + ",\n    \"name\": " + quoted(name)
           + ",\n    \"about\": " + quoted(about) + ",\n    \"settings\": {\n" + members + "\n    }\n}\n";
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
