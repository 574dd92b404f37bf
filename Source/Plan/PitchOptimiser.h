// SPDX-License-Identifier: GPL-3.0-or-later
// The pitch worth having above the hard floor: a receding-horizon linear program over what the preview shows and one
// turn more. It minimises the mean position over that horizon, and the travel of the pitch at a price: a steady pitch is nearly
// free where one that goes up and down in every turn saves next to nothing. Variables are pitches at a few times ahead,
// close together soon and further apart later; past the preview the program is taken to go on like the last turn.
// The hard floor makes the result safe, so the program may be coarse. Begun 32 times a turn, its work cut into as many equal
// shares as there are bins until the next; nothing is allocated. Audio thread.
#pragma once

#include "Plan/DemandAhead.h"
#include "Plan/DualSimplex.h"
#include "Plan/PlanSetup.h"
#include "Plan/RampModel.h"
#include "Plan/SectorRing.h"

#include <algorithm>
#include <span>
#include <vector>

namespace headland::plan {

class PitchOptimiser {
public:
    /// `demandHorizon` is the number of boundaries ahead whose demand is given: the preview and one turn. Of a longer preview
    /// than four turns only those are looked at: more hardly saves disc, and the time of a solution is bounded.
    PitchOptimiser(const PlanSetup& setup, int demandHorizon);

    /// Forgets the last solution: a new cut begins.
    void start() noexcept;

    /// Its plan so far is that of another optimiser.
    void goOnFrom(const PitchOptimiser& other) noexcept;

    /// Leaves the plan that is being made: its results would come to nothing.
    void leave() noexcept { isBegun = false; }

    /// Boundaries ahead that are looked at.
    int boundariesAhead() const noexcept { return nodes.back(); }

    /// Sectors between two solutions.
    int sectorsPerPlan() const noexcept { return planStep; }

    /// Begins a new plan, from what is known at this boundary; `next_um` is the command that will be reached meanwhile. What
    /// `demand` refers to must stay as it is until finish().
    void begin(const DemandAhead& demand, std::int64_t boundary, AxisState now, double next_um) noexcept;

    /// A bin's share of the work on it; nothing when the sector's shares have been done. `positions_um` holds the position at
    /// every boundary from one turn before that of begin() on.
    void work(const SectorRing<double>& positions_um) noexcept;

    /// What is left of the sector's shares, at its end.
    void endSector(const SectorRing<double>& positions_um) noexcept;

    /// Takes over the plan begun `sectorsPerPlan()` sectors ago; without a solution the one before goes on. The pitch command to
    /// have so many sectors from now.
    double finish() noexcept;

    /// The pitch the last plan has for so many sectors after it was made.
    double planned_um(double sectorsAhead) const noexcept;

private:
    /// Boundaries ahead that are one row of the program together.
    struct Stretch {
        int first, last;
    };
    /// Travel to a boundary (from one turn before, where that lies ahead) that is not up to the variables.
    struct Travel {
        double v0, q0, constant;
        double scale; ///< brings the row to µm of pitch
    };
    /// A place in a sector ahead and the travel it asks for.
    struct Demanded {
        int sector;
        double part;
        double travel_um;
    };

    void chooseNodes(int horizon);
    void chooseStretches(int horizon);
    int countedSectors(int horizon) const noexcept;
    void respond(int horizon);
    std::span<double> rowOf(int j) noexcept;
    double expected_um(const DemandAhead& demand) const noexcept;
    void setRow(std::size_t r, const Demanded& most) noexcept;
    Demanded mostDemanding(const Stretch& stretch, const SectorRing<double>& positions_um) const noexcept;
    void setRows(std::size_t end, const SectorRing<double>& positions_um) noexcept;
    void setOwnRows(double next_um) noexcept;
    void setLimits() noexcept;
    int sharesPerSector() const noexcept { return std::max(2, setup.binsPerSector); }
    int sharesOfRows() const noexcept { return planStep * sharesPerSector() / 2; }
    int sharesOfExchanges() const noexcept { return planStep * sharesPerSector() - sharesOfRows(); }

    PlanSetup setup;
    int planStep;
    std::vector<int> nodes; ///< sectors ahead at which the pitch is a variable
    std::vector<Stretch> stretches;
    std::vector<Travel> travels;  ///< by boundary ahead
    std::vector<double> rowTable; ///< boundaries ahead × nodes
    std::vector<double>
        costTable; ///< mean position, for 1 µm of pitch at each node, times the horizon's turns
    DualSimplex program;
    std::vector<double> plan_um; ///< pitches at the nodes in the last solution
    int planAge = 0;             ///< sectors since it was begun
    // The plan that is being made:
    bool isBegun = false;
    DemandAhead asked{};
    std::int64_t boundary = 0; ///< where it begins
    AxisState now{};
    int shares = 0;       ///< of the work done
    int sharesDue = 0;    ///< by the end of this sector
    std::size_t rows = 0; ///< chosen
};

} // namespace headland::plan
