// SPDX-License-Identifier: GPL-3.0-or-later
// The preview delays tried for a side: a quarter turn to four turns, and the one that is set. Each in whole
// milliseconds, so that what is printed can be given back as preview_s. Any thread.
#pragma once

#include "Cut/CutSettings.h"

#include <array>
#include <string>
#include <vector>

namespace headland::cut {

/// Close together where the side changes most, further apart where little is left to gain.
inline constexpr std::array delays_turns{0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0};

/// A delay that cannot be tried.
struct DelayLeftOut {
    double delay_s = 0;
    std::string reason; ///< one or more sentences
};

struct DelayList {
    std::vector<CutSettings> trials; ///< valid; by rising preview_s, no two the same
    std::size_t asSet = 0;           ///< the trial with the settings as they were given
    std::vector<DelayLeftOut> leftOut;
};

/// The delays for these settings, which must be valid. A delay within half a millisecond of the one set is that one.
DelayList delaysToTry(const CutSettings& settings, double sampleRate_hz);

} // namespace headland::cut
