// SPDX-License-Identifier: GPL-3.0-or-later
// `headland note`: writes a person's words on a cut into its book, afterwards; writes them anew; deletes them. Main thread.
#pragma once

#include "Console/ExitCode.h"

#include <cstdint>
#include <iosfwd>
#include <optional>
#include <string>

namespace headland::console {

/// What was asked for on the command line.
struct NoteRequest {
    std::string book;
    std::int64_t cut = 0;
    std::string text;
    std::optional<std::string> time;             ///< as it was given; none: of the cut as a whole
    std::optional<std::int64_t> edited, deleted; ///< number of the note in the book; none: it is a new one
};

/// Does it, and says so on `out`. Throws InputError or OutputError.
ExitCode noteCommand(const NoteRequest& request, std::ostream& out);

} // namespace headland::console
