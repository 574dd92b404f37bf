// SPDX-License-Identifier: GPL-3.0-or-later
// The rolling estimate: how much disc is used and left, and where the side will end. From the pitch spent so far
// (means over blocks of turns) and the side's length, known or that of an ordinary side of the format.
// Sized at construction, constant time a sector; runs on the audio thread.
#pragma once

#include "Disc/Format.h"
#include "Disc/RehearsedSide.h"

#include <cstdint>

namespace headland::disc {

/// What an estimate is made from, from the least sure to the surest.
enum class EstimateGrade : std::uint8_t {
    blind,       ///< an ordinary side of the format is assumed
    lengthKnown, ///< the side's length is known
    rehearsed    ///< the whole side was heard before
};

/// As it stands in reports: "blind", "length known", "rehearsed".
const char* nameOf(EstimateGrade grade) noexcept;

/// The estimate at one sector. Radius figures are along the radius, not the diameter, unless the name says so.
struct DiscEstimate {
    double used_mm;        ///< radius used since the program's start
    double left_mm;        ///< radius left to the innermost modulated groove; negative once it is passed
    double used_cm2;       ///< area used since the program's start
    double left_cm2;       ///< area left; negative once the limit is passed
    double left_min;       ///< minutes left at the going rate
    double endDiameter_mm; ///< where the program is expected to end, length taken as known or nominal
    double endDiameterUncertainty_mm; ///< one standard deviation of endDiameter_mm; 1.28 of them hold 80 %
    EstimateGrade grade;

    bool isLengthKnown() const noexcept { return grade != EstimateGrade::blind; }
};

/// What the estimate takes for granted; docs/theory/estimate.md tells where each figure comes from.
struct EstimateAssumptions {
    double lengthSpread = 0.2; ///< of an ordinary side's length; no source
    double blocksAlike = 6;    ///< blocks of one character one after the other
    double ordinaryBlocks = 1; ///< the ordinary side's pitch counts as so many blocks
    double pitchSpread = 0.32; ///< of a block's pitch, as a part of the mean, before it is measured
    double spreadBlocks = 4;   ///< that counts as so many blocks
};

/// What the estimator has to be told once.
struct EstimatorSetup {
    double startRadius_mm;
    double endRadius_mm;
    double turn_s;
    int sectorsPerTurn;
    double nominalSide_s;     ///< length of an ordinary side of this format
    double knownLength_s = 0; ///< 0: not known (blind)
    EstimateAssumptions assumed{};
    const RehearsedSide* rehearsed =
        nullptr; ///< the side as it was rehearsed; it must live as long; null: it was not
};

/// Keeps the estimate up to date, one call a sector of program.
class DiscEstimator {
public:
    explicit DiscEstimator(const EstimatorSetup& setup) noexcept;

    /// How long the side has turned out to be, program time in s; 0: that is not known after all.
    void tellLength(double length_s) noexcept { setup.knownLength_s = length_s; }

    /// Takes the next sector: centre-line radius at its end and program time there (s, negative in the lead-in). `asRehearsed`: the
    /// side goes on as it was rehearsed, as far as anybody can know.
    DiscEstimate update(double radius_mm, double time_s, bool asRehearsed = false) noexcept;

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
