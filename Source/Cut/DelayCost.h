// SPDX-License-Identifier: GPL-3.0-or-later
// What a side that has been cut would have cost with another preview delay: planned again from the swings that its frames
// have, sector by sector, without the program. Takes the engine's planner and the engine's stages; nothing is measured, so
// that a shortfall is one that the plan announces. Any thread but the audio thread: it allocates.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/FrameView.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <span>

namespace headland::cut {

struct DelayCost {
    double preview_s = 0;
    /// Of radius, from the start radius to where the program's last frame ends; up to 2 % too much, as the log has the swings of
    /// whole sectors only.
    double used_mm = 0;
    double shortfallGreatest_um = 0;   ///< of the program; 0: none
    std::int64_t shortfallSectors = 0; ///< of the program, that are short by more than planTolerance_um
};

/// The cost of the side with these settings, `preview_s` among them, which must be valid at that rate. `frames` are of one
/// cut, from its lowering on, in order; of those missing the program is taken as silence. What was ridden during that cut is
/// not known to it. `isStopped` is asked once a turn; nothing comes back when it says so.
std::optional<DelayCost> costOfDelay(const CutSettings& settings, double sampleRate_hz,
                                     const FrameView& frames, const std::function<bool()>& isStopped);

} // namespace headland::cut
