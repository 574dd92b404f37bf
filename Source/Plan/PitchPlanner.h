// SPDX-License-Identifier: GPL-3.0-or-later
// Plans the groove pitch, one sector at a time. Under everything lies the hard floor: the least pitch now from which
// full slew still meets every known spacing demand, the carriage's lag included. What the pitch should be above the floor is
// decided by whoever passes a wish (an optimiser; for now only a short look ahead that keeps the curve steady).
// Positions are distance travelled inwards, µm. Sized once, bounded time a sector; audio thread.
#pragma once

#include "Plan/PlanSetup.h"
#include "Plan/RampModel.h"
#include "Plan/SectorRing.h"

#include <span>

namespace headland::plan {

/// What the pitch does in the next sector.
struct PitchStep {
    double command_um;   ///< at the sector's end, reached in a straight line
    double axis_um;      ///< the pitch the carriage is expected to have then
    double shortfall_um; ///< how far full slew from here still misses a known demand; 0 when none is missed
};

/// Where the pitch would be if nothing demanded more, and how fast it may change to get there.
struct PitchAim {
    bool heedDemand; ///< false: go where wished whatever the spacing (closing into the finishing groove)
    double wish_um;
    double greatest_um;
    double slewUp_um_s;
    double slewDown_um_s;
};

class PitchPlanner {
public:
    /// `horizon` is the number of boundaries ahead whose demand step() is given.
    PitchPlanner(const PlanSetup& setup, int horizon);

    /// The stylus goes down with this pitch, at boundary 0.
    void start(double pitch_um) noexcept;

    /// Decides the next sector. `spacing_um[j-1]` is the spacing demanded of the j-th boundary ahead against the
    /// boundary one turn before it; minus infinity where there is no previous turn.
    PitchStep step(std::span<const double> spacing_um, const PitchAim& aim) noexcept;

    /// Distance travelled inwards at the present boundary, µm, as modelled.
    double position_um() const noexcept { return positions_um[boundary]; }
    std::int64_t presentBoundary() const noexcept { return boundary; }

private:
    double need_um(int j, double spacing_um) const noexcept;
    double steady_um(std::span<const double> spacing_um) const noexcept;
    double floor_um(std::span<const double> spacing_um) const noexcept;
    double cappedFloor_um(std::span<const double> spacing_um, double pitch_um,
                          double greatest_um) const noexcept;
    double cappedRun_um_s(int j, double pitch_um) const noexcept;
    bool surelyMet(int j, double spacing_um, double pitch_um) const noexcept;
    double shortfallAt_um(int j, double spacing_um, double pitch_um) const noexcept;

    PlanSetup setup;
    RampModel model;
    FullSlewForecast rising;  ///< at full slew
    FullSlewForecast holding; ///< at constant command, two sectors
    SectorRing<double> positions_um;
    std::int64_t boundary = 0;
    AxisState now;
};

} // namespace headland::plan
