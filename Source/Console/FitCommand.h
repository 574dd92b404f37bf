// SPDX-License-Identifier: GPL-3.0-or-later
// `headland fit`: the highest disc level (or land, or depth) at which a side fits and is clean, by cutting it again and
// again. Nothing is left behind unless it all went well. Main thread.
#pragma once

#include "Console/ExitCode.h"
#include "Console/ProgramRequest.h"

#include <iosfwd>
#include <string>

namespace headland::console {

/// What was asked for on the command line.
struct FitRequest {
    ProgramRequest program; ///< `quiet`: the answer's sentence only; no `csv`
    std::string vary;       ///< name of one of fitQuantities()
};

/// Does it; the report goes to `out`. Returns `done` when an answer was found, `cannotBeCut` when there is none. Throws
/// InputError (with one problem a line), OutputError or Stopped.
ExitCode fitCommand(const FitRequest& request, std::ostream& out);

} // namespace headland::console
