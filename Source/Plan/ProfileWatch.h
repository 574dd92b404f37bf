// SPDX-License-Identifier: GPL-3.0-or-later
// Watches whether a profile that is believed goes on telling what is then heard. Sized once; audio thread.
#pragma once

#include "Plan/PlanSetup.h"
#include "Plan/Rehearsed.h"
#include "Plan/SectorExtremes.h"

#include <vector>

namespace headland::plan {

class ProfileWatch {
public:
    explicit ProfileWatch(const PlanSetup& setup);

    /// From now on this profile is believed, at this place: as of `number`, the bin to be heard next. What was heard before counts on where it was
    /// the same profile and not more than a bin away.
    void begin(const Profile& profile, const ProfilePlace& place, std::int64_t number) noexcept;

    void end() noexcept { profile = nullptr; }

    /// The next bin as heard, numbered from sector 0's first. Whether the last turn was something else than the profile says: seen
    /// when a whole turn has been heard, and eight times a turn from then on.
    bool hear(const SectorExtremes& bin, std::int64_t number) noexcept;

private:
    bool endBin() noexcept;
    std::int64_t profileBin(std::int64_t number) const noexcept;

    int binsPerSector;
    const Profile* profile = nullptr;
    ProfilePlace place{};
    std::int64_t at = -1; ///< bin of the profile that is being heard
    ProfileBin now{};
    std::vector<ProfileBin> heard, told; ///< of the last turn, twice over: a window of them lies in one piece
    std::int64_t count = 0;              ///< bins of the profile heard
};

} // namespace headland::plan
