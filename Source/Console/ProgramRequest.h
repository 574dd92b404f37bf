// SPDX-License-Identifier: GPL-3.0-or-later
// What every command that cuts a program is asked for on the command line. Plain data.
#pragma once

#include "Console/SettingsArguments.h"

#include <optional>
#include <string>

namespace headland::console {

/// Program, settings and outputs; a command leaves empty what it does not offer.
struct ProgramRequest {
    std::string program; ///< path
    SettingsArguments settings;
    std::optional<std::string> csv;     ///< path of the cut log
    std::optional<std::string> json;    ///< path of the report
    std::optional<std::string> picture; ///< path, ending in .svg or .png
    bool quiet = false;                 ///< the result in one line, no progress
};

} // namespace headland::console
