// SPDX-License-Identifier: GPL-3.0-or-later
// What the stylus is doing and what pitch that calls for: lead-in, program, band, lead-out, finishing groove. Decides
// once a sector from where the groove is and what it was told; the planner then adds what the program demands.
// Audio thread.
#pragma once

#include "Cut/Cue.h"
#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Plan/PitchPlanner.h"

#include <cstdint>

namespace headland::cut {

/// Where things stand when a sector begins.
struct StylusSituation {
    double radius_mm;
    double pitch_um;   ///< as the carriage moves
    double command_um; ///< as last commanded
};

class StylusStage {
public:
    /// The stylus is up.
    explicit StylusStage(const CutSettings& settings);

    /// The stylus goes down with the next enter(), into the lead-in.
    void lower() noexcept;
    /// The stylus is up at once.
    void lift() noexcept { current = course = State::up; }
    /// What enter() shall go on with: a stage of the side further on. Of no effect, false, when the stylus is up or the
    /// side is past it. `leadIn` in the lead-in begins it anew.
    bool cue(Cue cue) noexcept;

    /// Whether the disc ends here: the next enter() then begins the lead-out, or lifts, whatever the program does.
    bool discEnds(const StylusSituation& now) const noexcept;

    /// Decides the next sector.
    void enter(const StylusSituation& now) noexcept;

    /// Of the sector last entered.
    State state() const noexcept { return current; }
    bool isUp() const noexcept { return current == State::up; }
    const plan::PitchAim& aim() const noexcept { return pitchAim; }
    /// How fast the carriage can follow in this stage, µm per revolution per second.
    double slew_um_s() const noexcept { return slew; }

    /// Whole sectors of lead-in before the program, as set.
    std::int64_t leadInSectors() const noexcept { return leadIn.sectors; }
    /// How far the lead-in takes the stylus, mm, as set.
    double leadInTravel_mm() const noexcept { return leadInTravel; }

private:
    /// A stretch of wide pitch that ends at the program's.
    struct Spiral {
        double pitch_um;
        std::int64_t sectors;
        std::int64_t closingSectors; ///< the last of them, in which the pitch closes
    };
    static Spiral leadInOf(const CutSettings& s);
    static Spiral bandOf(const CutSettings& s);
    static double nominalTravel_mm(const CutSettings& s, const Spiral& spiral);
    void begin(State next) noexcept;
    bool runSpiral(const Spiral& spiral) noexcept;
    void runProgram(const StylusSituation& now) noexcept;
    void runLeadOut(const StylusSituation& now) noexcept;
    void runFinishing() noexcept;
    bool mustClose(const StylusSituation& now) const noexcept;
    double sectorTravel_mm(const StylusSituation& now) const noexcept;
    double room_mm(const StylusSituation& now) const noexcept;

    CutSettings settings;
    Spiral leadIn, band;
    double leadInTravel;
    double leadOutTravel; ///< of the least lead-out, mm

    State current = State::up; ///< of the sector under the stylus
    State course = State::up;  ///< what the next one goes on with
    std::int64_t sectors = 0;  ///< of the course so far
    plan::PitchAim pitchAim{};
    double slew = 0;
    double leadOutPitch_um = 0; ///< 0 until the lead-out has begun
    bool closing = false;       ///< the lead-out runs into the finishing groove
};

} // namespace headland::cut
