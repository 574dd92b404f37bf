// SPDX-License-Identifier: GPL-3.0-or-later
// What the stylus is doing and what pitch that calls for: lead-in, program, lead-out, finishing groove. Decides once a
// sector from where the groove is; the planner then adds what the program demands. Audio thread.
#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Plan/PitchPlanner.h"

#include <cstdint>

namespace headland::cut {

/// Where things stand when a sector begins.
struct StylusSituation {
    bool programOver; ///< the program's last sample has passed the stylus
    double radius_mm;
    double pitch_um;   ///< as the carriage moves
    double command_um; ///< as last commanded
};

class StylusStage {
public:
    explicit StylusStage(const CutSettings& settings);

    /// Decides sector `sector`, counted from the lowering of the stylus.
    void enter(std::int64_t sector, const StylusSituation& now) noexcept;

    State state() const noexcept { return current; }
    bool done() const noexcept { return current == State::up; }
    const plan::PitchAim& aim() const noexcept { return pitchAim; }
    /// How fast the carriage can follow in this stage, µm per revolution per second.
    double slew_um_s() const noexcept { return slew; }

    /// Whole sectors of lead-in before the program.
    std::int64_t leadInSectors() const noexcept { return leadIn; }
    /// How far the lead-in takes the stylus, mm.
    double leadInTravel_mm() const noexcept { return leadInTravel; }

private:
    void enterLeadIn(std::int64_t sector) noexcept;
    void enterProgram(const StylusSituation& now) noexcept;
    void enterLeadOut(const StylusSituation& now) noexcept;
    void enterFinishing() noexcept;
    bool mustClose(const StylusSituation& now) const noexcept;
    double room_um(const StylusSituation& now) const noexcept;

    CutSettings settings;
    State current = State::leadIn;
    plan::PitchAim pitchAim{};
    double slew = 0;
    std::int64_t leadIn;
    std::int64_t closingSectors; ///< of the lead-in, in which the pitch closes to the program's
    double leadInTravel;
    double leadOutPitch_um = 0; ///< 0 until the lead-out has begun
    bool closing = false;       ///< the lead-out runs into the finishing groove
    std::int64_t finishingSectors = 0;
};

} // namespace headland::cut
