// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/StateText.h"

#include "Cut/UnitText.h"
#include "Files/Json.h"

#include <cmath>
#include <optional>

namespace headland::plugin {

using files::Json;

namespace {

constexpr std::size_t sizeMax_bytes = 1 << 20;

constexpr char unchanged[] = "; the set-up stays as it was.";

template <typename Settings, typename Table>
void write(Json& object, const Settings& settings, const Table& table) {
    for (const auto& setting : table)
        object[std::string(setting.key)] = cut::getNumber(settings, setting);
}

/// Version 1 had every number as text.
std::optional<double> numberOf(const Json& value) {
    if (value.is_string())
        return cut::valueFromText(value.get_ref<const std::string&>(), "", false);
    return value.is_number() ? std::optional(value.get<double>()) : std::nullopt;
}

/// Sentence about the first value that will not do; empty when all were read.
template <typename Settings, typename Table>
std::string read(const Json& values, Settings& settings, const Table& table) {
    for (const auto& setting : table) {
        const auto value = values.find(setting.key);
        if (value == values.end())
            continue;
        const auto number = numberOf(*value);
        if (!number || *number < setting.least || *number > setting.greatest
            || (setting.isWhole() && *number != std::round(*number)))
            return "The saved state gives " + std::string(setting.label) + " a value that it cannot have"
                   + unchanged;
        cut::setNumber(settings, setting, *number);
    }
    return {};
}

/// Leaves the text as it is where the state has none.
void readText(const Json& root, const char* key, std::string& text) {
    if (const auto value = root.find(key); value != root.end() && value->is_string())
        text = value->get<std::string>();
}

std::string problemOf(const Json& root) {
    const auto version = root.is_object() ? root.value("headland_state", Json()) : Json();
    if (!version.is_number_integer() || !root.value("settings", Json()).is_object())
        return std::string("The saved state is damaged or not Headland's") + unchanged;
    if (version > stateVersion)
        return "The saved state is of version " + version.dump() + ", and this Headland reads up to version "
               + std::to_string(stateVersion) + unchanged + " Use the newer Headland.";
    if (version < 1)
        return "The saved state is of version " + version.dump() + ", which there never was" + unchanged;
    return {};
}

/// Takes what the document says, or says why not.
std::string readRoot(const Json& root, State& state) {
    if (const auto problem = problemOf(root); !problem.empty())
        return problem;
    State wanted;
    if (const auto problem = read(root["settings"], wanted.cut, cut::settingsTable()); !problem.empty())
        return problem;
    if (const auto problem = read(root["settings"], wanted.live, liveTable()); !problem.empty())
        return problem;
    readText(root, "osc_host", wanted.oscHost);
    readText(root, "book", wanted.book.path);
    readText(root, "job", wanted.book.side.job);
    readText(root, "side", wanted.book.side.side);
    state = wanted;
    return {};
}

} // namespace

std::string stateText(const State& state) {
    auto settings = Json::object();
    write(settings, state.cut, cut::settingsTable());
    write(settings, state.live, liveTable());
    return files::jsonText({{"headland_state", stateVersion},
                            {"settings", settings},
                            {"osc_host", state.oscHost},
                            {"book", state.book.path},
                            {"job", state.book.side.job},
                            {"side", state.book.side.side}});
}

bool readState(std::string_view text, State& state, std::string& problem) {
    try {
        problem = text.size() > sizeMax_bytes
                      ? std::string("The saved state is over a megabyte and not Headland's") + unchanged
                      : readRoot(files::readJson(text), state);
    } catch (const files::JsonError& error) {
        problem = std::string("The saved state is damaged or not Headland's: ") + error.what() + unchanged;
    }
    return problem.empty();
}

} // namespace headland::plugin
