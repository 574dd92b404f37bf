// SPDX-License-Identifier: GPL-3.0-or-later
// The summary of a cut, gathered from its frames and from nothing else: totals, extremes with their places, and the
// flagged passages. Memory is bounded whatever the side's length.
#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace headland::cut {

/// An extreme and where it was; `valid` is false while none has been seen.
struct Extreme {
    double value = 0;
    double time_s = 0;
    double radius_mm = 0;
    bool valid = false;

    bool operator==(const Extreme&) const = default;
};

/// The figure a flag is about, and whether less of it is worse.
struct Figure {
    double value; ///< NaN: there is none in this frame
    bool lessIsWorse;

    bool isWorseThan(double other) const noexcept { return lessIsWorse ? value < other : value > other; }
};
Figure figureOf(const CutFrame& frame, Flag flag) noexcept;

/// Stretches under one flag closer than this are one passage.
inline constexpr double joinGap_s = 1.0;

/// A stretch of the side under one flag.
struct Passage {
    Flag flag;
    double start_s = 0;
    double end_s = 0;
    Extreme worst; ///< the figure the flag is about: land, width, slope, radius of curvature, shortfall …

    bool operator==(const Passage&) const = default;
};

/// Whether the side can be cut.
enum class Verdict { canBeCut, cannotBeCut };

/// Totals of a whole cut. Lengths as the names say; times are program time.
struct CutSummary {
    double sideLength_s = 0; ///< of the program, also where the disc ended first if the length is known
    double turns = 0;        ///< of program
    double startDiameter_mm = 0;
    double endDiameter_mm = 0; ///< where the program ended
    double used_mm = 0, left_mm = 0;
    double used_cm2 = 0, left_cm2 = 0;
    double pitchMean_um = 0, pitchLeast_um = 0, pitchGreatest_um = 0;
    double pitchTravel_um =
        0; ///< how far the pitch went up and down, a turn of program; the first turn, which comes from the lead-in, left out
    double depthMean_um = 0, depthLeast_um = 0, depthGreatest_um = 0;
    Extreme landLeast;                ///< µm, program only
    Extreme widthLeast;               ///< µm
    Extreme slopeGreatest;            ///< velocity / groove speed
    Extreme curvatureLeast;           ///< µm
    Extreme shortfallGreatest;        ///< µm
    Extreme depthGreatestWithProgram; ///< µm
    double fitLength_s =
        0;            ///< program time at which the innermost modulated diameter was reached, or sideLength_s
    bool fits = true; ///< the program ended before the innermost modulated diameter
    /// Where the disc ended before the program did: time, and radius as its value; not valid when it did not.
    Extreme discEnd;
    /// Radius that the program beyond the disc's end would need at the mean pitch so far, mm; 0 when all of it was cut or its
    /// length is not known.
    double notCut_mm = 0;
    double finishingDiameter_mm = 0; ///< where the finishing groove was cut, 0 if there was no room for it
    std::array<std::int64_t, flagCount> flaggedSectors{};
    std::array<std::int64_t, flagCount> flaggedPassages{};
    std::vector<Passage> passages; ///< in order of their start; at most maxPassages
    std::int64_t passagesLeftOut = 0;
    std::int64_t sectors = 0;

    static constexpr std::size_t maxPassages = 1000;

    /// The side cannot be cut when any flag spoils it (Cut/Spoils.h).
    Verdict verdict() const noexcept;
    /// Radius left beyond the innermost modulated radius with the whole program, mm; negative when it does not fit.
    double room_mm(const CutSettings& settings) const noexcept {
        return endDiameter_mm / 2 - settings.end_radius_mm - notCut_mm;
    }
    /// The worst passage under a flag by the figure it is about; not valid when there is none.
    Extreme worstOf(Flag flag) const noexcept;
    /// The verdict in one line, with the reason.
    std::string verdictLine() const;

    bool operator==(const CutSummary&) const = default; ///< every figure, to the last bit
};

/// Gathers a summary from frames.
class SummaryBuilder : public FrameSink {
public:
    explicit SummaryBuilder(const CutSettings& settings);
    void frame(const CutFrame& frame) noexcept override;
    /// Closes open passages and returns the summary so far.
    CutSummary summary() const;

private:
    bool isOpen(Flag flag) const noexcept { return (openFlags & static_cast<unsigned>(flag)) != 0; }
    void notePassages(const CutFrame& frame, double sectorStart_s) noexcept;
    void noteTravel(const CutFrame& frame, double sectorStart_s) noexcept;

    CutSettings settings;
    CutSummary totals;
    std::array<Passage, flagCount> passages{}; ///< the latest under each flag
    unsigned openFlags = 0;                    ///< those whose passage may still go on
    double lastTime_s = 0;
    double pitchSum_um = 0, depthSum_um = 0;
    double travelSum_um = 0, travelled_s = 0, lastPitch_um = 0;
    std::int64_t programSectors = 0;
};

} // namespace headland::cut
