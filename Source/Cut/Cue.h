// SPDX-License-Identifier: GPL-3.0-or-later
// What a person tells the stylus to do. Plain data; any thread.
#pragma once

#include <cstdint>

namespace headland::cut {

/// In the order of a side, lifting first. `leadIn` lowers the stylus.
enum class Cue : std::uint8_t { lift, leadIn, program, band, leadOut, finishing };

inline constexpr int cueCount = 6;

} // namespace headland::cut
