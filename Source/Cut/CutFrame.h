// SPDX-License-Identifier: GPL-3.0-or-later
// What happened in one sector of the disc: plain data, the same to editor, log and console.
// Everything in it was measured on the groove the (simulated) lathe cut, except the commands, the demand and the
// estimate. Trivially copyable; made on the audio thread, read anywhere.
#pragma once

#include "Cut/EdgeRun.h"
#include "Disc/DiscEstimator.h"
#include "Plan/Profile.h"

#include <bit>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <type_traits>

namespace headland::cut {

/// What the stylus is doing.
enum class State : std::uint8_t { up, leadIn, program, band, leadOut, finishing };

/// Cautions of one sector, as bits.
enum class Flag : std::uint16_t {
    overcut = 1 << 0,      ///< land below zero: two grooves have met
    thinLand = 1 << 1,     ///< land below the set land
    narrow = 1 << 2,       ///< groove narrower than the set width
    lifted = 1 << 3,       ///< no groove: depth at or below zero
    steep = 1 << 4,        ///< slope above the cutting stylus' back angle
    tight = 1 << 5,        ///< curvature radius below the playback tip's
    previewShort = 1 << 6, ///< the demand came too late for the carriage or the depth to meet it
    limit = 1 << 7,        ///< the demand is beyond the greatest pitch or depth
    badSample = 1 << 8,    ///< the program held NaN, infinity or an absurd value here; cut as silence
    tooDeep = 1 << 9,      ///< the groove with its program deeper than the lacquer can be trusted to be
    pastEnd = 1 << 10,     ///< program inside the innermost modulated radius
    discEnd = 1 << 11,     ///< the disc ends after this sector: lead-out or lift, though the program went on
};

inline constexpr int flagCount = 12;

/// How far land or width may be below what was set, or a demand be missed, before its flag is raised: what planning by
/// sectors cannot promise to every sample (docs/theory/groove.md).
inline constexpr double planTolerance_um = 0.5;

/// Name of a state as written to the log ("lead-in", "program" …).
std::string_view name(State state) noexcept;
/// Name of a flag as written to the log ("overcut", "thin-land" …).
std::string_view name(Flag flag) noexcept;
/// The flag with bit number 0 … flagCount-1.
constexpr Flag flagAt(int bit) noexcept {
    return static_cast<Flag>(1u << bit);
}
/// Bit number of a flag, to index an array of flagCount.
constexpr std::size_t indexOf(Flag flag) noexcept {
    return static_cast<std::size_t>(std::countr_zero(static_cast<unsigned>(flag)));
}

/// One sector.
struct CutFrame {
    double time_s;           ///< program time at the stylus at the END of the sector; negative in the lead-in
    double turn;             ///< revolutions since the stylus was lowered
    double radius_mm;        ///< centre line at the end of the sector
    double pitch_um;         ///< per revolution, as the lathe moved, at the end of the sector
    double pitchCommand_um;  ///< as commanded
    double depth_um;         ///< unmodulated groove depth as the lathe moved, at the end of the sector
    double depthCommand_um;  ///< as commanded
    double landMin_um;       ///< least land to the previous turn in the sector; NaN while there is none
    double widthMin_um;      ///< least groove width in the sector
    double lateralPeak_cm_s; ///< peak lateral velocity
    double verticalPeak_cm_s; ///< peak vertical velocity
    double slopePeak;         ///< peak of √2 · wall velocity / groove speed, the worse wall
    double
        curvatureMin_um; ///< least radius of curvature of a wall along its normal; +infinity for a straight groove
    double demand_um; ///< spacing the program demands of this sector against the previous turn
    double
        shortfall_um; ///< how far the best possible pitch from here misses a known demand; 0 when it does not
    double peak_dbfs; ///< program peak in the sector, the louder channel; -infinity in silence
    double
        outerSwing_um; ///< greatest excursion of the outer edge outwards that the program made in the sector; signed
    double innerSwing_um; ///< of the inner edge inwards; signed
    double lift_um;       ///< greatest lift of the stylus by the program in the sector; signed
    double
        depthPeak_um; ///< greatest depth of the groove with its program; NaN in logs older than this figure
    disc::DiscEstimate estimate; ///< what is used and left, and where the side will end
    State state;
    std::uint16_t flags; ///< Flag bits

    bool has(Flag flag) const noexcept { return (flags & static_cast<std::uint16_t>(flag)) != 0; }
};

static_assert(std::is_trivially_copyable_v<CutFrame>);

/// Takes frames, one a sector, in order. Called on the thread that runs the engine: must not block.
class FrameSink {
public:
    virtual ~FrameSink() = default;
    virtual void frame(const CutFrame& frame) noexcept = 0;

    /// Whether edges() wants to be called.
    virtual bool wantsEdges() const noexcept { return false; }
    /// The edges that have been cut since the last call, all of a sector's before its frame.
    virtual void edges(const EdgeRun&) noexcept {}

    /// Whether heard() wants to be called.
    virtual bool wantsHeard() const noexcept { return false; }
    /// What the preview head has heard in a bin of a profile (Plan/Profile.h), numbered from CutEngine::prepare() on.
    virtual void heard(const plan::ProfileBin&, std::int64_t) noexcept {}
};

} // namespace headland::cut
