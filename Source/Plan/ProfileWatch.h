// SPDX-License-Identifier: GPL-3.0-or-later
// Watches whether a profile that is believed goes on telling what is then heard. Sized once; audio thread.
#pragma once

#include "Plan/PlanSetup.h"
#include "Plan/ProfileMisfit.h"
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

    void end() noexcept {
        profile = nullptr;
        check.stop();
    }

    /// The next bin as heard, numbered from sector 0's first. Eight times a turn, from when a whole one has been heard, the last turn is
    /// compared with what the profile says of it.
    void hear(const SectorExtremes& bin, std::int64_t number) noexcept;
    /// A share of that comparison: to be called a few times before isMisfit(), or that does it all.
    void work() noexcept { check.proceed(); }
    /// Whether the turn that was compared last was something else than the profile says.
    bool isMisfit() noexcept;

private:
    void endBin() noexcept;
    std::int64_t profileBin(std::int64_t number) const noexcept;

    int binsPerSector;
    const Profile* profile = nullptr;
    ProfilePlace place{};
    std::int64_t at = -1; ///< bin of the profile that is being heard
    ProfileBin now{};
    std::vector<ProfileBin> heard, told; ///< of the last turn, twice over: a window of them lies in one piece
    std::int64_t count = 0;              ///< bins of the profile heard
    MisfitCheck check;
};

} // namespace headland::plan
