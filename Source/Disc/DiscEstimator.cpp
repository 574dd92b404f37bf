// SPDX-License-Identifier: GPL-3.0-or-later
#include "Disc/DiscEstimator.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headland::disc {

namespace {

// Assumptions of the estimate, no source: an ordinary side's length is known to a fifth, an ordinary side's mean pitch
// to a third; pitch is averaged over blocks of about half a minute to a minute, and program keeps its character for
// a piece of about four blocks (three minutes at 33 1/3), so that blocks do not scatter independently.
constexpr double nominalLengthSpread = 0.2;
constexpr double nominalPitchSpread = 0.33;
constexpr int blockTurns = 24;
constexpr double blocksAlike = 4;
constexpr double rateTurns = 8; ///< the going rate is taken over about this many turns

double area_cm2(double outer_mm, double inner_mm) {
    return std::numbers::pi * (outer_mm * outer_mm - inner_mm * inner_mm) / 100;
}

} // namespace

DiscEstimator::DiscEstimator(const EstimatorSetup& s) noexcept
    : setup(s),
      nominalPitch_um((s.startRadius_mm - s.endRadius_mm) * 1000 / (s.nominalSide_s / s.turn_s)),
      blockStartRadius_mm(s.startRadius_mm),
      lastRadius_mm(s.startRadius_mm),
      rate_um(nominalPitch_um) {}

/// Length the side will have, seen at `time_s`. Blind: a normal distribution around the ordinary side, of which what lies
/// before now is ruled out; its mean and spread then are those of the truncated normal distribution.
DiscEstimator::Length DiscEstimator::expectedLength(double time_s) const noexcept {
    if (setup.knownLength_s > 0)
        return {std::max(setup.knownLength_s, time_s), 0};
    const auto sd = nominalLengthSpread * setup.nominalSide_s;
    const auto x =
        std::min((time_s - setup.nominalSide_s) / sd, 6.0); // far past it the tail is the same again
    const auto density = std::exp(-x * x / 2) / std::sqrt(2 * std::numbers::pi);
    const auto hazard = density / (std::erfc(x / std::numbers::sqrt2) / 2);
    const auto variance = std::max(0.0, 1 + x * hazard - hazard * hazard);
    const auto beyond_s = (hazard - x) * sd;
    return {time_s + beyond_s, std::sqrt(variance) * sd};
}

void DiscEstimator::closeBlock(double radius_mm) noexcept {
    const auto pitch_um = (blockStartRadius_mm - radius_mm) * 1000 / blockTurns;
    blockCount += 1;
    pitchSum_um += pitch_um;
    pitchSquareSum_um2 += pitch_um * pitch_um;
    blockStartRadius_mm = radius_mm;
    sectorsInBlock = 0;
}

/// Mean pitch to be expected of the rest, and the spread of one block around it; the ordinary side counts as one block.
DiscEstimator::Pitch DiscEstimator::expectedPitch() const noexcept {
    const auto count = blockCount + 1;
    const auto mean = (pitchSum_um + nominalPitch_um) / count;
    const auto prior = nominalPitchSpread * nominalPitch_um;
    const auto scatter = pitchSquareSum_um2 - 2 * mean * pitchSum_um + blockCount * mean * mean;
    return {mean, std::sqrt((std::max(0.0, scatter) + prior * prior) / count)};
}

DiscEstimate DiscEstimator::update(double radius_mm, double time_s) noexcept {
    if (time_s > 0) {
        const auto spent_um = (lastRadius_mm - radius_mm) * 1000 * setup.sectorsPerTurn;
        rate_um += (spent_um - rate_um) / (rateTurns * setup.sectorsPerTurn);
        if (++sectorsInBlock == blockTurns * setup.sectorsPerTurn)
            closeBlock(radius_mm);
    } else {
        setup.startRadius_mm = blockStartRadius_mm = radius_mm;
    }
    lastRadius_mm = radius_mm;

    const auto length = expectedLength(std::max(0.0, time_s));
    const auto turnsLeft = (length.mean_s - std::max(0.0, time_s)) / setup.turn_s;
    const auto pitch = expectedPitch();
    const auto blocksLeft = turnsLeft / blockTurns;
    // Scatter of the rest around its own mean, and how well that mean is known; both in pieces, not in blocks.
    const auto scatter = blocksLeft * std::min(blocksLeft, blocksAlike);
    const auto meanUnknown = blocksLeft * blocksLeft * blocksAlike / (blockCount + blocksAlike);
    const auto pitchSpread_mm = pitch.blockSpread_um * blockTurns / 1000 * std::sqrt(scatter + meanUnknown);
    const auto lengthSpread_mm = pitch.mean_um / 1000 * length.sd_s / setup.turn_s;

    DiscEstimate e{};
    e.used_mm = std::max(0.0, setup.startRadius_mm - radius_mm);
    e.left_mm = radius_mm - setup.endRadius_mm;
    e.used_cm2 = std::max(0.0, area_cm2(setup.startRadius_mm, radius_mm));
    e.left_cm2 = area_cm2(radius_mm, setup.endRadius_mm);
    e.left_min = e.left_mm * 1000 / rate_um * setup.turn_s / 60;
    e.endDiameter_mm = 2 * (radius_mm - turnsLeft * pitch.mean_um / 1000);
    e.endDiameterUncertainty_mm = 2 * std::hypot(pitchSpread_mm, lengthSpread_mm);
    e.lengthKnown = setup.knownLength_s > 0;
    return e;
}

} // namespace headland::disc
