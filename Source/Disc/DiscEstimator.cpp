// SPDX-License-Identifier: GPL-3.0-or-later
#include "Disc/DiscEstimator.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headland::disc {

namespace {

constexpr int blockTurns = 24;  ///< pitch is averaged over so many: 43 s at 33 1/3
constexpr double rateTurns = 8; ///< the going rate is taken over about this many turns
constexpr double rehearsedSpread_mm =
    0.1; ///< of a rehearsed side's end diameter, for what no rehearsal knows; no source

double area_cm2(double outer_mm, double inner_mm) {
    return std::numbers::pi * (outer_mm * outer_mm - inner_mm * inner_mm) / 100;
}

} // namespace

const char* nameOf(EstimateGrade grade) noexcept {
    switch (grade) {
    case EstimateGrade::blind:
        return "blind";
    case EstimateGrade::lengthKnown:
        return "length known";
    case EstimateGrade::rehearsed:
        return "rehearsed";
    }
    return "";
}

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
    const auto sd = setup.assumed.lengthSpread * setup.nominalSide_s;
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

/// Mean pitch to be expected of the rest, and the spread of one block around it: of the blocks so far, and of some that an
/// ordinary side would have had.
DiscEstimator::Pitch DiscEstimator::expectedPitch() const noexcept {
    const auto& assumed = setup.assumed;
    const auto mean_um =
        (pitchSum_um + assumed.ordinaryBlocks * nominalPitch_um) / (blockCount + assumed.ordinaryBlocks);
    const auto scatter_um2 =
        blockCount > 0 ? std::max(0.0, pitchSquareSum_um2 - pitchSum_um * pitchSum_um / blockCount) : 0;
    const auto before_um = assumed.pitchSpread * mean_um;
    return {mean_um, std::sqrt((scatter_um2 + assumed.spreadBlocks * before_um * before_um)
                               / (blockCount + assumed.spreadBlocks))};
}

DiscEstimate DiscEstimator::update(double radius_mm, double time_s, bool asRehearsed) noexcept {
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
    const auto alike = setup.assumed.blocksAlike;
    const auto scatter = blocksLeft * std::min(blocksLeft, alike);
    const auto meanUnknown = blocksLeft * blocksLeft * alike / (blockCount + setup.assumed.ordinaryBlocks);
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
    e.grade = setup.knownLength_s > 0 ? EstimateGrade::lengthKnown : EstimateGrade::blind;
    if (asRehearsed && setup.rehearsed != nullptr) {
        // Where the groove has come to lie beside the rehearsed one, it stays.
        e.endDiameter_mm = 2 * (radius_mm + setup.rehearsed->end_mm() - setup.rehearsed->radius_mm(time_s));
        e.endDiameterUncertainty_mm = rehearsedSpread_mm;
        e.grade = EstimateGrade::rehearsed;
    }
    return e;
}

} // namespace headland::disc
