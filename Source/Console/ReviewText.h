// SPDX-License-Identifier: GPL-3.0-or-later
// What a person reads of a book: its cuts by side, and of one cut what its frames do not tell. UTF-8. Not for the audio
// thread.
#pragma once

#include "Log/BookReader.h"

#include <string>
#include <vector>

namespace headland::console {

/// The book's cuts and rehearsals, side by side of every job.
std::string bookText(const std::string& path, const std::vector<log::CutEntry>& cuts,
                     const std::vector<log::RehearsalEntry>& rehearsals);

/// Which cut it is, how it ended, and what is missing of it; a line each.
std::string cutHeading(std::int64_t number, const log::LoggedCut& cut);

/// Events, notes and the places whose groove is kept; a line each, nothing where there are none.
std::string cutDetails(const log::LoggedCut& cut, const std::vector<log::PlaceEntry>& places);

/// "finished", or what is known of a cut that has no end.
std::string endingText(const std::string& ending, const std::string& written_utc);

} // namespace headland::console
