// SPDX-License-Identifier: GPL-3.0-or-later
// The least disc any controller could have used had it known the whole side: a linear program over all sectors, solved
// with COIN-OR Clp, an independent general-purpose solver. Variables: the pitch command at the plan's sector boundaries,
// straight in between; constraints: every spacing demanded, pitch limits, slew, and the carriage's lag.
#pragma once

#include <vector>

namespace headland::reference {

struct OptimumProblem {
    double turn_s;
    int sectorsPerTurn;             ///< fine sectors, one demand each
    int coarse;                     ///< fine sectors to one plan sector; divides sectorsPerTurn
    std::vector<double> demand_um;  ///< spacing demanded at fine boundary 1, 2 …, minus infinity for none
    std::vector<double> history_um; ///< position at fine boundary −sectorsPerTurn … 0, inward, increasing
    double command_um, axis_um;     ///< pitch at boundary 0
    double least_um, greatest_um, slew_um_s, lag_s;
};

struct Optimum {
    bool solved;                    ///< false: no controller can meet the demand (or the solver gave up)
    double used_um;                 ///< travel from boundary 0 to the last demand's boundary
    std::vector<double> command_um; ///< at plan boundaries
};

Optimum solveOptimum(const OptimumProblem& problem);

/// The least µm by which the worst of the demands must be missed, whatever the controller does; 0 when all can be met.
double leastMiss_um(const OptimumProblem& problem);

} // namespace headland::reference
