// SPDX-License-Identifier: GPL-3.0-or-later
// What has become of the profile that a cut was given. Plain data; any thread.
#pragma once

namespace headland::cut {

struct ProfileUse {
    bool wasGiven = false;
    bool wasUsed =
        false; ///< plans were made with it: its excursions are those of these settings but for a factor
    bool isDropped = false; ///< it told something else than was then heard
    double dropped_s = 0;   ///< program time at the preview head when that was noticed

    bool operator==(const ProfileUse&) const = default;
};

} // namespace headland::cut
