// SPDX-License-Identifier: GPL-3.0-or-later
// What one signal is found in another by: from the excursions of a program's bins, how much louder each moment is than the
// second around it. A level makes no difference to it, nor does half a bin. Plain arithmetic; any thread but the audio thread.
#pragma once

#include "Plan/Profile.h"

#include <span>
#include <vector>

namespace headland::align {

/// Bins on either side that a figure of the feature depends on: without them it is not the one that the whole program gives.
inline constexpr int featureReach = 209;

/// A bin's loudness, µm: all of its excursions.
inline float loudnessOf(const plan::ProfileBin& bin) noexcept {
    return bin.outer_um + bin.inner_um + bin.upward_um;
}

/// The feature of each bin: the loudness of the 5 bins around it (of each excursion the greatest, so that no half wave above
/// 22 Hz is missed, wherever the bins begin), its logarithm, smoothed over 15 bins with triangular weights, less its mean over 401
/// bins. Past either end there is nothing to count. What is no number counts as 0.
std::vector<float> featureOf(std::span<const plan::ProfileBin> bins);

} // namespace headland::align
