// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/ProfileWatch.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace headland::plan {

namespace {

constexpr std::int64_t window = Profile::binsPerTurn;
constexpr std::int64_t binsPerLook = window / 8;

} // namespace

ProfileWatch::ProfileWatch(const PlanSetup& s)
    : binsPerSector(s.binsPerSector),
      heard(static_cast<std::size_t>(2 * window)),
      told(static_cast<std::size_t>(2 * window)) {}

void ProfileWatch::begin(const Profile& believed, const ProfilePlace& where, std::int64_t number) noexcept {
    const auto before = profile == &believed ? profileBin(number) : std::numeric_limits<std::int64_t>::min();
    profile = &believed;
    place = where;
    if (std::abs(static_cast<double>(profileBin(number)) - static_cast<double>(before)) <= 1)
        return;
    at = -1;
    count = 0;
    check.stop();
}

/// Of the profile, that one heard lies in.
std::int64_t ProfileWatch::profileBin(std::int64_t number) const noexcept {
    const auto sectors = static_cast<double>(number) / binsPerSector;
    return static_cast<std::int64_t>(
        std::floor((place.zero_s + sectors * place.sector_s) / profile->bin_s() + 1e-6));
}

bool ProfileWatch::isMisfit() noexcept {
    while (!check.isDone())
        check.proceed();
    return check.result().noticed;
}

void ProfileWatch::hear(const SectorExtremes& bin, std::int64_t number) noexcept {
    const auto of = profileBin(number);
    if (of != at) {
        endBin();
        now = {};
    }
    at = of;
    now.widen(bin);
}

/// A bin of the profile has been heard to its end; before and after what was rehearsed nothing is compared.
void ProfileWatch::endBin() noexcept {
    if (at < 0 || at >= static_cast<std::int64_t>(profile->bins.size()))
        return;
    const auto scale = static_cast<float>(place.scale);
    const auto& bin = profile->bins[static_cast<std::size_t>(at)];
    const auto slot = static_cast<std::size_t>(count % window);
    heard[slot] = heard[slot + window] = now;
    told[slot] = told[slot + window] = {bin.outer_um * scale, bin.inner_um * scale, bin.upward_um * scale};
    ++count;
    if (count < window || count % binsPerLook != 0)
        return;
    const auto first = static_cast<std::size_t>(count % window);
    check.begin(std::span(heard).subspan(first, window), std::span(told).subspan(first, window));
}

} // namespace headland::plan
