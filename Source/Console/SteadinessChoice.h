// SPDX-License-Identifier: GPL-3.0-or-later
// How much disc is worth giving for a steady pitch, at a delay that was chosen: of the trials whose groove comes out as well as
// at that delay, the one with the least price, disc used and travel of the pitch added up at a fixed rate. docs/tune.md
// derives it. Any thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"

#include <cstddef>
#include <vector>

namespace headland::console {

/// The side at one value of steady_pitch_percent.
struct SteadinessTrial {
    double percent = 0; ///< of the disc, given for a steady pitch
    cut::CutSummary summary;
};

/// What half the travel is worth, as a share of the disc used.
inline constexpr double worthOfHalfTheTravel = 0.01;
/// What another value than the one that is set must be worth to be recommended.
inline constexpr double worthAChange = 0.001;

/// The values worth trying, rising, that of `settings` among them.
std::vector<double> steadinessToTry(const cut::CutSettings& settings);

/// Index of the trial to be recommended; `atDelay`: that which was made with the delay alone. At least one trial.
std::size_t chooseSteadiness(const std::vector<SteadinessTrial>& trials, std::size_t atDelay,
                             double landSet_um);

} // namespace headland::console
