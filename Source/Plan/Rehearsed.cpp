// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/Rehearsed.h"

#include <algorithm>
#include <cmath>

namespace headland::plan {

Rehearsed::Rehearsed(const PlanSetup& s)
    : setup(s),
      swings(s.rehearsedSectors + s.previewSectors + 3 * s.sectorsPerTurn),
      depths_um(s.rehearsedSectors + s.previewSectors + 3 * s.sectorsPerTurn) {}

void Rehearsed::use(const Profile& believed, const ProfilePlace& at, std::int64_t from) noexcept {
    profile = &believed;
    place = at;
    begin = end = from;
}

/// Before and after what was rehearsed there is silence.
ProfileBin Rehearsed::swingsOf(std::int64_t sector) const noexcept {
    constexpr double rounding = 1e-6; // of a bin: a place that is a bin's border but for rounding
    const auto count = static_cast<double>(profile->bins.size());
    const auto bin = [&](std::int64_t boundary) {
        return (place.zero_s + static_cast<double>(boundary) * place.sector_s) / profile->bin_s();
    };
    const auto first = std::clamp(std::floor(bin(sector) + rounding), 0.0, count);
    const auto past = std::clamp(std::ceil(bin(sector + 1) - rounding), first, count);
    ProfileBin most;
    for (auto i = static_cast<std::size_t>(first); i < static_cast<std::size_t>(past); ++i)
        most = widest(most, profile->bins[i]);
    const auto scale = static_cast<float>(place.scale);
    return {most.outer_um * scale, most.inner_um * scale, most.upward_um * scale};
}

/// The depth is the least within its slew, as the depth's own plan will have it but for the drive's lag.
void Rehearsed::look(std::int64_t sector) noexcept {
    const auto reach_um = setup.depth.slew_um_s * setup.sector_s();
    swings[sector] = swingsOf(sector);
    const auto wanted_um = std::clamp(setup.widthMin_um / 2 + swings[sector].upward_um, setup.depthBasic_um,
                                      setup.depth.greatest_um);
    const auto fallen_um = sector > begin ? depths_um[sector - 1] - reach_um : setup.depthBasic_um;
    depths_um[sector] = std::max(wanted_um, fallen_um);
    auto need_um = depths_um[sector] - reach_um;
    for (auto before = sector - 1; before >= begin && depths_um[before] < need_um; --before) {
        depths_um[before] = need_um;
        need_um -= reach_um;
    }
}

void Rehearsed::lookTo(std::int64_t to) noexcept {
    if (!isUsed())
        return;
    for (; end < to; ++end)
        look(end);
}

} // namespace headland::plan
