// SPDX-License-Identifier: GPL-3.0-or-later
// Settings as a person gives them on the command line: the table's defaults, over them the presets in the order given,
// over those the --set values. Every problem is kept, so that all of them can be said at once. Not for the audio thread.
#pragma once

#include "Cut/CutSettings.h"

#include <string>
#include <vector>

namespace headland::console {

/// What was given.
struct SettingsArguments {
    std::vector<std::string> presets; ///< names or paths, in order
    std::vector<std::string> sets;    ///< KEY=VALUE, in order; a later one of the same key wins
};

/// What came of it.
struct MergedSettings {
    cut::CutSettings settings;
    std::vector<std::string> problems; ///< each one sentence; without those cut::validate() finds
    bool sideLengthGiven = false; ///< the person set side_length_s, so the file's length is not to be taken
};

/// Merges defaults, presets and --set values. A format among the --set values is applied before the others, whatever
/// its place, because it takes over speed, radii and preview.
MergedSettings mergeSettings(const SettingsArguments& arguments);

} // namespace headland::console
