// SPDX-License-Identifier: GPL-3.0-or-later
// What every command that cuts a program is asked for on the command line. Plain data.
#pragma once

#include "Console/Outputs.h"
#include "Console/SettingsArguments.h"
#include "Log/CutRecord.h"

#include <optional>
#include <string>

namespace headland::console {

/// Program, settings and outputs; a command leaves empty what it does not offer.
struct ProgramRequest : OutputPaths {
    std::string program; ///< path
    SettingsArguments settings;
    bool rehearse = false;                ///< hear the whole program before it is cut
    std::optional<std::string> rehearsed; ///< path of the profile that an earlier rehearsal has left
    std::optional<std::string> book;      ///< path of the book of cuts
    log::SideName side{"Unnamed", ""};   ///< what the book files it under; without a side: the program's name
    std::optional<std::int64_t> answers; ///< the cut of that book it is to be better than
    bool quiet = false;                  ///< the result in one line, no progress
};

} // namespace headland::console
