// SPDX-License-Identifier: GPL-3.0-or-later
// The preview as a tape machine gives it: the length of tape between the preview head and the head that feeds the
// cutter. Any thread.
#pragma once

#include <array>
#include <string_view>

namespace headland::cut {

/// A speed that lacquers are cut from.
struct TapeSpeed {
    std::string_view name; ///< as the trade says it, in whole cm/s
    double speed_cm_s;     ///< as it is
};

/// 15 and 30 in/s, of 2.54 cm. The trade says 38 and 76 cm/s; IEC 60094-1 has 38.1 and 76.2 (from memory).
inline constexpr std::array tapeSpeeds{TapeSpeed{"38", 38.1}, TapeSpeed{"76", 76.2}};

/// Tape that passes in `delay_s`, mm.
constexpr double tapePath_mm(double delay_s, const TapeSpeed& speed) noexcept {
    constexpr double mm_per_cm = 10;
    return delay_s * speed.speed_cm_s * mm_per_cm;
}

} // namespace headland::cut
