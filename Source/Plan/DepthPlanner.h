// SPDX-License-Identifier: GPL-3.0-or-later
// Plans the groove's unmodulated depth: the least depth that keeps the groove wide enough everywhere the preview
// shows, within the depth drive's slew, with its lag compensated. On the way up the command is the least from which full
// slew still meets every demand; it never falls below the slope-limited envelope of the demand ahead.
// A new demand changes the plan from where it begins to matter on. The next sector is always planned with everything
// that is known; what of the rest does not fit into a sector's time is planned anew in the sectors after.
// Boundaries are numbered as sectors: boundary b is where sector b begins. Sized once; audio thread.
#pragma once

#include "Plan/PlanSetup.h"
#include "Plan/RampModel.h"
#include "Plan/SectorRing.h"

#include <algorithm>

namespace headland::plan {

class DepthPlanner {
public:
    explicit DepthPlanner(const PlanSetup& setup);

    /// Demand of the next sector (guard included): the greatest lift of the stylus in it, and how much deeper than the
    /// basic depth the groove shall be there at least, µm.
    void demand(double upward_um, double added_um = 0) noexcept;

    /// The stylus goes down at this boundary, at the basic depth.
    void start(std::int64_t boundary) noexcept;

    /// Plans as far as the demand is known and a sector's time allows, and for certain at least to `boundary`. A plan
    /// once certain stays.
    void planTo(std::int64_t boundary) noexcept;

    /// Command and modelled depth at a boundary; past the known demand, as at its end. From one turn before the
    /// newest boundary asked for in planTo() on.
    const AxisState& at(std::int64_t boundary) const noexcept {
        return states[std::min(boundary, std::max(known, certain))];
    }

    /// How far the depth of a sector, as planned, rises above a straight line between its boundaries, µm.
    double bulge_um(std::int64_t sector) const noexcept {
        return sector < std::max(known, certain) ? bulges_um[sector] : 0.0;
    }

    /// How far a demand will be missed by what the last planTo() made certain, µm; 0 if none is.
    double shortfall_um() const noexcept { return shortfall; }
    /// Whether a sector's demand is beyond the greatest depth.
    bool limited(std::int64_t sector) const noexcept { return wanted_um[sector] > reachable_um; }

private:
    struct Step {
        double command_um;
        double shortfall_um;
    };
    Step step(std::int64_t from) const noexcept;
    double boundaryDemand(std::int64_t boundary) const noexcept;
    void spoilFrom(std::int64_t sector) noexcept;
    void go(std::int64_t from, double command_um) noexcept;

    PlanSetup setup;
    RampModel model;
    FullSlewForecast forecast;
    double reachable_um; ///< deepest the axis can be sent to without overshooting the limit
    int lookahead;       ///< sectors after which no demand matters yet
    SectorRing<double> wanted_um;
    SectorRing<AxisState> states;
    SectorRing<double> bulges_um;
    std::int64_t known = 0;   ///< sectors whose demand is known
    std::int64_t certain = 0; ///< boundary up to which the plan stays
    std::int64_t planned = 0; ///< boundary up to which the plan is the one for everything known
    std::int64_t filled = 0;  ///< boundary up to which there is a plan at all
    double shortfall = 0;
};

} // namespace headland::plan
