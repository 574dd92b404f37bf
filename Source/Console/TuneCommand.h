// SPDX-License-Identifier: GPL-3.0-or-later
// `headland tune`: what preview delay is worth having? Cuts the side at a range of delays and recommends one. Nothing is
// left behind unless it all went well. Main thread; the trials run on threads of their own.
#pragma once

#include "Console/ExitCode.h"
#include "Console/ProgramRequest.h"

#include <iosfwd>

namespace headland::console {

/// Does it; table and recommendation go to `out`, with `quiet` the recommendation only. Throws InputError (with one
/// problem a line), OutputError or Stopped.
ExitCode tuneCommand(const ProgramRequest& request, std::ostream& out);

} // namespace headland::console
