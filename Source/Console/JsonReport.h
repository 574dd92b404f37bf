// SPDX-License-Identifier: GPL-3.0-or-later
// The cut as JSON: program, every setting under its key, the summary, the flagged passages. Figures carry their unit in
// the name; what does not exist is null. Not for the audio thread.
#pragma once

#include "Console/CutReport.h"
#include "Log/JsonObject.h"

#include <string>

namespace headland::console {

inline constexpr int jsonVersion = 1; ///< of the report's layout, its member "headland_cut"

/// The report, for whoever has more to say of the cut.
log::JsonObject reportObject(const CutReport& report);

/// The file's text, UTF-8.
std::string jsonText(const CutReport& report);

} // namespace headland::console
