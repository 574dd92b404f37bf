// SPDX-License-Identifier: GPL-3.0-or-later
// `headland cut`: checks everything that was asked for, opens the outputs, cuts the program and reports. Nothing is
// left behind unless it all went well. Main thread.
#pragma once

#include "Console/ExitCode.h"
#include "Console/ProgramRequest.h"

#include <iosfwd>

namespace headland::console {

/// Does it; the summary goes to `out`, with `quiet` the verdict line only and no search for a level that fits. Throws InputError (with one problem a line), OutputError or Stopped.
ExitCode cutCommand(const ProgramRequest& request, std::ostream& out);

} // namespace headland::console
