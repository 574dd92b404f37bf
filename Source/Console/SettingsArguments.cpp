// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/SettingsArguments.h"

#include "Cut/SettingsTable.h"
#include "Files/PresetFile.h"
#include "Text/Safe.h"

#include <algorithm>
#include <string_view>

namespace headland::console {

using text::printable;

namespace {

constexpr std::string_view lengthKey = "side_length_s";

void mergePreset(MergedSettings& merged, const std::string& nameOrFile) {
    const auto preset = files::loadPreset(nameOrFile);
    const auto problems = files::applyPreset(merged.settings, preset, files::presetPlace(nameOrFile));
    merged.problems.insert(merged.problems.end(), problems.begin(), problems.end());
    for (const auto& value : preset.settings)
        merged.sideLengthGiven |= value.key == lengthKey;
}

void mergeSet(MergedSettings& merged, const std::string& set) {
    const auto equals = set.find('=');
    if (equals == std::string::npos) {
        merged.problems.push_back("--set " + printable(set)
                                  + ": write it as KEY=VALUE, such as land_min_um=14.");
        return;
    }
    const auto key = set.substr(0, equals);
    if (const auto problem = cut::setFromText(merged.settings, key, set.substr(equals + 1)))
        merged.problems.push_back("--set " + *problem);
    else
        merged.sideLengthGiven |= key == lengthKey;
}

} // namespace

MergedSettings mergeSettings(const SettingsArguments& arguments) {
    MergedSettings merged;
    for (const auto& preset : arguments.presets)
        mergePreset(merged, preset);
    auto sets = arguments.sets;
    std::stable_partition(sets.begin(), sets.end(),
                          [](const auto& set) { return set.starts_with("format="); });
    for (const auto& set : sets)
        mergeSet(merged, set);
    return merged;
}

} // namespace headland::console
