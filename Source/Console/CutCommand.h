// SPDX-License-Identifier: GPL-3.0-or-later
// `headland cut`: checks everything that was asked for, opens the outputs, cuts the program and reports. Nothing is
// left behind unless it all went well. Main thread.
#pragma once

#include "Console/ExitCode.h"
#include "Console/SettingsArguments.h"

#include <iosfwd>
#include <optional>
#include <string>

namespace headland::console {

/// What was asked for on the command line.
struct CutRequest {
    std::string program; ///< path
    SettingsArguments settings;
    std::optional<std::string> csv;     ///< path of the cut log
    std::optional<std::string> json;    ///< path of the report
    std::optional<std::string> picture; ///< path, ending in .svg or .png
    bool quiet = false;                 ///< the verdict line only, no progress, no level search
};

/// Does it; the summary goes to `out`. Throws InputError (with one problem a line), OutputError or Stopped.
ExitCode cutCommand(const CutRequest& request, std::ostream& out);

} // namespace headland::console
