// SPDX-License-Identifier: GPL-3.0-or-later
// The rolling estimate: how much disc is used and left, and where the side will end. From the pitch spent so far
// (means over blocks of turns) and the side's length, known or that of an ordinary side of the format.
// Sized at construction, constant time a sector; runs on the audio thread.
#pragma once

#include "Disc/Format.h"

#include <cstdint>

namespace headland::disc {

/// The estimate at one sector. Radius figures are along the radius, not the diameter, unless the name says so.
struct DiscEstimate {
    double used_mm;        ///< radius used since the program's start
    double left_mm;        ///< radius left to the innermost modulated groove; negative once it is passed
    double used_cm2;       ///< area used since the program's start
    double left_cm2;       ///< area left; negative once the limit is passed
    double left_min;       ///< minutes left at the going rate
    double endDiameter_mm; ///< where the program is expected to end, length taken as known or nominal
    double endDiameterUncertainty_mm; ///< one standard deviation of endDiameter_mm
    bool lengthKnown;                 ///< false: blind, an ordinary side of the format is assumed
};

/// What the estimator has to be told once.
struct EstimatorSetup {
    double startRadius_mm;
    double endRadius_mm;
    double turn_s;
    int sectorsPerTurn;
    double nominalSide_s;     ///< length of an ordinary side of this format
    double knownLength_s = 0; ///< 0: not known (blind)
};

/// Keeps the estimate up to date, one call a sector of program.
class DiscEstimator {
public:
    explicit DiscEstimator(const EstimatorSetup& setup) noexcept;

    /// Takes the next sector: centre-line radius at its end and program time there (s, negative in the lead-in).
    DiscEstimate update(double radius_mm, double time_s) noexcept;

private:
    struct Length {
        double mean_s;
        double sd_s;
    };
    struct Pitch {
        double mean_um;
        double blockSpread_um;
    };
    Length expectedLength(double time_s) const noexcept;
    Pitch expectedPitch() const noexcept;
    void closeBlock(double radius_mm) noexcept;

    EstimatorSetup setup;
    double nominalPitch_um;
    int sectorsInBlock = 0;
    double blockStartRadius_mm;
    double blockCount = 0;
    double pitchSum_um = 0;
    double pitchSquareSum_um2 = 0;
    double lastRadius_mm;
    double rate_um; ///< pitch of the last turns
};

} // namespace headland::disc
