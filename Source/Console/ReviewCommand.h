// SPDX-License-Identifier: GPL-3.0-or-later
// `headland review`: what a book of cuts holds, and what there is to know of one cut in it: summary, worst places, notes,
// CSV, JSON, the picture of the side and that of the groove around a place. Reads only. Main thread.
#pragma once

#include "Console/ExitCode.h"
#include "Console/Outputs.h"

#include <cstdint>
#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

namespace headland::console {

/// A picture of the groove that was asked for.
struct GrooveRequest {
    std::string time; ///< as it was given: "3:21.5" or seconds
    std::string path; ///< ending in .svg or .png
};

/// What was asked for on the command line.
struct ReviewRequest : OutputPaths {
    std::string book;
    std::optional<std::int64_t> cut; ///< none: the list of cuts
    std::vector<GrooveRequest> grooves;
    std::optional<std::string> program; ///< file the cut was made from, if it is not where it was
    bool check = false;                 ///< look at every page of the book
    bool quiet = false;                 ///< of a cut, the verdict only
};

/// Does it; the text goes to `out`. Throws InputError (with one problem a line), OutputError or Stopped.
ExitCode reviewCommand(const ReviewRequest& request, std::ostream& out);

} // namespace headland::console
