// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/StateText.h"

#include "Cut/UnitText.h"

#include <juce_core/juce_core.h>

#include <array>
#include <charconv>
#include <optional>

namespace headland::plugin {

namespace {

/// The shortest text that reads back to the same bits.
juce::String exactText(double value) {
    std::array<char, 40> text{};
    const auto [end, error] = std::to_chars(text.data(), text.data() + text.size(), value);
    return {text.data(), static_cast<std::size_t>(end - text.data())};
}

juce::Identifier idOf(std::string_view key) {
    return juce::String(key.data(), key.size());
}

template <typename Settings, typename Table>
void write(juce::DynamicObject& object, const Settings& settings, const Table& table) {
    for (const auto& setting : table)
        object.setProperty(idOf(setting.key), exactText(cut::getNumber(settings, setting)));
}

/// Sentence about the first value that will not do; empty when all were read.
template <typename Settings, typename Table>
std::string read(const juce::var& values, Settings& settings, const Table& table) {
    for (const auto& setting : table) {
        const auto& value = values[idOf(setting.key)];
        if (value.isVoid())
            continue;
        const auto number = cut::valueFromText(value.toString().toStdString(), "", false);
        if (!number || *number < setting.least || *number > setting.greatest
            || (setting.isWhole() && *number != std::round(*number)))
            return "The saved state holds '" + value.toString().toStdString() + "' for "
                   + std::string(setting.key) + ", which is no value of it; the set-up stays as it was.";
        cut::setNumber(settings, setting, *number);
    }
    return {};
}

void writeText(juce::DynamicObject& object, const char* key, const std::string& text) {
    object.setProperty(key, juce::String::fromUTF8(text.c_str()));
}

/// Leaves the text as it is where the state has none.
void readText(const juce::var& root, const char* key, std::string& text) {
    if (root[key].isString())
        text = root[key].toString().toStdString();
}

std::string problemOf(const juce::var& root) {
    if (!root.isObject() || !root["headland_state"].isInt() || !root["settings"].isObject())
        return "The saved state is damaged or not Headland's; the set-up stays as it was.";
    const int version = root["headland_state"];
    if (version > stateVersion)
        return "The saved state is of version " + std::to_string(version)
               + ", and this Headland reads up to version " + std::to_string(stateVersion)
               + "; the set-up stays as it was. Use the newer Headland.";
    if (version < 1)
        return "The saved state is of version " + std::to_string(version)
               + ", which there never was; the set-up stays as it was.";
    return {};
}

} // namespace

std::string stateText(const State& state) {
    juce::DynamicObject::Ptr settings = new juce::DynamicObject;
    write(*settings, state.cut, cut::settingsTable());
    write(*settings, state.live, liveTable());
    juce::DynamicObject::Ptr root = new juce::DynamicObject;
    root->setProperty("headland_state", stateVersion);
    root->setProperty("settings", juce::var(settings.get()));
    writeText(*root, "osc_host", state.oscHost);
    writeText(*root, "book", state.book.path);
    writeText(*root, "job", state.book.side.job);
    writeText(*root, "side", state.book.side.side);
    return juce::JSON::toString(juce::var(root.get())).toStdString();
}

bool readState(std::string_view text, State& state, std::string& problem) {
    juce::var root;
    if (juce::JSON::parse(juce::String::fromUTF8(text.data(), static_cast<int>(text.size())), root).failed())
        root = juce::var();
    State wanted;
    problem = problemOf(root);
    if (problem.empty())
        problem = read(root["settings"], wanted.cut, cut::settingsTable());
    if (problem.empty())
        problem = read(root["settings"], wanted.live, liveTable());
    if (!problem.empty())
        return false;
    readText(root, "osc_host", wanted.oscHost);
    readText(root, "book", wanted.book.path);
    readText(root, "job", wanted.book.side.job);
    readText(root, "side", wanted.book.side.side);
    state = wanted;
    return true;
}

} // namespace headland::plugin
