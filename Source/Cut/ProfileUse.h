// SPDX-License-Identifier: GPL-3.0-or-later
// What has become of the profile that a cut was given. Plain data; any thread.
#pragma once

#include <cstdint>

namespace headland::cut {

/// Where a live program is in the profile of its rehearsal: what the preview head hears t seconds after it began to (CutEngine::prepare())
/// is at offset_s + ratio · t in the profile.
struct ProfilePosition {
    double offset_s = 0;
    double ratio = 1; ///< above 1: it runs faster than when it was rehearsed

    bool operator==(const ProfilePosition&) const = default;
};

struct ProfileUse {
    bool wasGiven = false;
    bool wasUsed =
        false; ///< plans were made with it: its excursions are those of these settings but for a factor
    bool isDropped = false; ///< it told something else than was then heard
    double dropped_s = 0;   ///< program time at the preview head when that was noticed
    bool isSought = false;  ///< where the program is in it has to be found: CutEngine::found()
    std::int64_t sector =
        -1; ///< from this one on it was used where it is now, counted from where the stylus went down; -1: it was not found
    double at_s = 0;  ///< time in the profile at which that sector begins
    double ratio = 1; ///< as ProfilePosition's

    bool operator==(const ProfileUse&) const = default;
};

} // namespace headland::cut
