// SPDX-License-Identifier: GPL-3.0-or-later
// A cut out of a book as JSON: the report of `headland cut`, and beside it what only the book knows: which cut, how it
// ended, what happened, what was noted, what is missing. Not for the audio thread.
#pragma once

#include "Console/CutReport.h"
#include "Log/BookReader.h"

#include <string>
#include <vector>

namespace headland::console {

/// The file's text, UTF-8.
std::string reviewJsonText(std::int64_t number, const log::LoggedCut& cut,
                           const std::vector<log::PlaceEntry>& places, const CutReport& report);

} // namespace headland::console
