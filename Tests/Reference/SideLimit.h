// SPDX-License-Identifier: GPL-3.0-or-later
// Two measures of a cut against a controller that knows the whole side, both by linear programs solved with COIN-OR Clp:
// the least disc the side could have taken, and the least travel of the pitch with which the disc it took could have been
// used. The controller has the set-up's limits and slew and no lag, the cut's own depths, and demand paired in bins: the outer
// edge's extreme in 3200 bins a turn, the inner one's widened by exactly the platter's tolerance, their sum by the preview's;
// of 64 bins the one that asks most.
#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"

#include <vector>

namespace headland::reference {

/// A program, interleaved stereo.
struct Recording {
    double rate_hz;
    std::vector<float> samples;
};

struct SideMeasure {
    bool solved = false;  ///< false: no controller could have cut it (or the solver gave up)
    double used_um = 0;   ///< what the program took
    double limit_um = 0;  ///< the least it could have taken
    double travel_um = 0; ///< of the pitch, first and last turn left out, Σ|Δp| over the rows of the log
    double leastTravel_um = 0; ///< the least with which no more disc is used
    double turns = 0;          ///< of the program

    double disc() const { return used_um / limit_um; }
    double travelRatio() const { return travel_um / leastTravel_um; }
    double travelPerTurn_um() const { return travel_um / (turns - 2); }
};

/// How far the pitch goes up and down between two program times, Σ|Δp| over the rows of the log, µm.
double travel_um(const std::vector<cut::CutFrame>& frames, double from_s, double until_s);

/// Measures a cut from its log. `recording` is its program; at least four turns long.
SideMeasure measureSide(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& settings,
                        const Recording& recording);

} // namespace headland::reference
