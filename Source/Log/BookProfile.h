// SPDX-License-Identifier: GPL-3.0-or-later
// The profile of a rehearsal in a book: the bytes of a profile file, cut into pieces, as no value of a book may be long. One
// thread at a time, not the audio thread.
#pragma once

#include "Log/Database.h"

#include <cstddef>
#include <cstdint>
#include <string>

namespace headland::log {

inline constexpr std::size_t profilePiece_bytes = 1 << 18; ///< but for the last; read at any length

/// The pieces of a profile, joined; no more than a profile file may have, and so cut short where a book has more. Throws
/// DatabaseError.
std::string profileBytesOf(Database& book, std::int64_t profile);

} // namespace headland::log
