// SPDX-License-Identifier: GPL-3.0-or-later
// What a rehearsal leaves: the excursions of the groove's edges over the whole side, in bins of a 400th of a turn, and what it
// was made with. Plain data.
#pragma once

#include "Plan/SectorExtremes.h"

#include <algorithm>
#include <vector>

namespace headland::plan {

/// Greatest excursions in a bin, as SectorExtremes has them but never below 0. µm.
struct ProfileBin {
    float outer_um = 0;  ///< outer edge outwards
    float inner_um = 0;  ///< inner edge inwards
    float upward_um = 0; ///< bottom of the groove upwards

    bool operator==(const ProfileBin&) const = default;

    /// The greater of both, each excursion by itself.
    friend ProfileBin widest(const ProfileBin& a, const ProfileBin& b) noexcept {
        return {std::max(a.outer_um, b.outer_um), std::max(a.inner_um, b.inner_um),
                std::max(a.upward_um, b.upward_um)};
    }
    /// So that it holds swings that are heard in it as well.
    void widen(const SectorExtremes& by) noexcept {
        *this = widest(*this, {static_cast<float>(by.outer_um), static_cast<float>(by.inner_um),
                               static_cast<float>(by.upward_um)});
    }
};

/// What the excursions depend on besides the program.
struct ProfileTerms {
    double turn_s = 1.8; ///< one revolution, in time of the program
    double reference_velocity_cm_s = 5;
    double alignment_dbfs = -18;
    double disc_level_db = 0;
    double highpass_hz = 12;

    bool operator==(const ProfileTerms&) const = default;
};

/// A rehearsed side. Bin i begins i turns / 400 after the program's first sample.
struct Profile {
    static constexpr int binsPerTurn = 400;

    ProfileTerms made;
    double length_s = 0;          ///< of the program
    std::vector<ProfileBin> bins; ///< as many as it takes to cover the length

    double bin_s() const noexcept { return made.turn_s / binsPerTurn; }
    bool operator==(const Profile&) const = default;
};

} // namespace headland::plan
