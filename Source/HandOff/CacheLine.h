// SPDX-License-Identifier: GPL-3.0-or-later
// How far apart two threads' variables are kept, so that one does not slow the other by writing its own.
#pragma once

#include <cstddef>

namespace headland::handoff {

/// Bytes. x86 has lines of 64 bytes and fetches them in pairs, Apple's processors have lines of 128 (both from memory).
inline constexpr std::size_t cacheLine_bytes = 128;

} // namespace headland::handoff
