// SPDX-License-Identifier: GPL-3.0-or-later
// What a rehearsal tells of the sectors that the preview head has not reached: the profile, laid against the sectors. It makes
// the plan cheaper and never less safe: no floor and no shortfall ever asks it. Sized once; audio thread.
#pragma once

#include "Plan/PlanSetup.h"
#include "Plan/Profile.h"
#include "Plan/SectorRing.h"

#include <cstdint>

namespace headland::plan {

/// Where a profile lies against the sectors.
struct ProfilePlace {
    double zero_s;   ///< time in the profile at which sector 0 begins
    double sector_s; ///< time in the profile that passes in a sector
    double scale;    ///< excursions now over those of the profile
};

class Rehearsed {
public:
    /// Sectors are kept from one turn and a plan's work before the newest one looked to.
    explicit Rehearsed(const PlanSetup& setup);

    /// From this sector on the profile is believed; it must live until drop().
    void use(const Profile& profile, const ProfilePlace& place, std::int64_t from) noexcept;
    void drop() noexcept { profile = nullptr; }
    bool isUsed() const noexcept { return profile != nullptr; }

    /// Looks on up to this sector.
    void lookTo(std::int64_t end) noexcept;
    /// Sectors are told up to here; nothing without a profile.
    std::int64_t toldTo() const noexcept { return isUsed() ? end : 0; }

    /// Of a sector that is told: greatest swings, never negative, and the depth that the groove will want, µm.
    double outer_um(std::int64_t sector) const noexcept { return swings[sector].outer_um; }
    double inner_um(std::int64_t sector) const noexcept { return swings[sector].inner_um; }
    double depth_um(std::int64_t sector) const noexcept { return depths_um[sector]; }
    /// The profile's own excursions in the time of a sector, scaled.
    ProfileBin swingsOf(std::int64_t sector) const noexcept;

private:
    void look(std::int64_t sector) noexcept;

    PlanSetup setup;
    const Profile* profile = nullptr;
    ProfilePlace place{};
    std::int64_t begin = 0, end = 0; ///< sectors told
    SectorRing<ProfileBin> swings;
    SectorRing<double> depths_um; ///< within the depth's slew
};

} // namespace headland::plan
