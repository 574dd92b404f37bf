// SPDX-License-Identifier: GPL-3.0-or-later
// Plans the groove pitch, one sector at a time. Under everything lies the hard floor: the least pitch now from which
// full slew still meets every known spacing demand, the carriage's lag included. What the pitch should be above the
// floor is the optimiser's wish (Plan/PitchOptimiser), or a fixed one in lead-in and lead-out.
// A demand stands on boundaries and is promised between them: there the spacing sags below a straight line while the
// pitch opens, and while it closed one turn before. So much more is demanded (Plan/RampModel).
// Positions are distance travelled inwards, µm. Sized once, bounded time a sector; audio thread.
#pragma once

#include "Plan/PitchOptimiser.h"
#include "Plan/PlanSetup.h"
#include "Plan/RampModel.h"
#include "Plan/SectorRing.h"

#include <limits>
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
    bool optimise;   ///< true: the optimiser wishes, `wish_um` is not used
    double wish_um;
    double greatest_um;
    double slewUp_um_s;
    double slewDown_um_s;
};

class PitchPlanner {
public:
    /// `horizon` is the number of boundaries ahead whose demand step() is given, `rehearsedHorizon` that with a rehearsal; 0: there
    /// never is one.
    PitchPlanner(const PlanSetup& setup, int horizon, int rehearsedHorizon = 0);

    /// The stylus goes down with this pitch, at this boundary; what was planned before is forgotten.
    void start(double pitch_um, std::int64_t atBoundary = 0) noexcept;

    /// Boundaries ahead whose demand can be a floor: what step() always wants.
    int floorDemand() const noexcept { return static_cast<int>(floorHorizon); }
    /// Boundaries ahead of an outlook, at most, and when a rehearsal tells so many of them.
    int outlookMost() const noexcept { return optimisers.back().boundariesAhead(); }
    int outlook(int told) const noexcept { return optimisers[optimiserFor(told)].boundariesAhead(); }
    /// Whether the next step, aiming so, makes a plan and so wants an outlook as well.
    bool wantsOutlook(const PitchAim& aim) const noexcept { return aim.optimise && sectorsToTarget == 0; }

    /// Decides the next sector.
    PitchStep step(const DemandAhead& demand, const PitchAim& aim) noexcept;

    /// A share of the optimiser's work; see CutPlanner::work().
    void work() noexcept { optimiser().work(positions_um); }

    /// How the pitch goes on as the plan stands, if nothing else is heard: at [j-1] the carriage's pitch at the j-th boundary
    /// ahead, and the spacing it makes there to the turn before. As many as the spans hold, up to the horizon.
    void foresee(std::span<double> pitch_um, std::span<double> spacing_um) noexcept;

    /// Distance travelled inwards at the present boundary, µm, as modelled.
    double position_um() const noexcept { return positions_um[boundary]; }
    /// Spacing to the turn before at the present boundary or the one before it, µm, as modelled; there must be a turn.
    double spacing_um(std::int64_t at) const noexcept {
        return positions_um[at] - positions_um[at - setup.sectorsPerTurn];
    }
    /// How far the spacing sags between the two, at most, µm.
    double sag_um() const noexcept { return lastSag_um; }
    std::int64_t presentBoundary() const noexcept { return boundary; }

private:
    /// What is demanded somewhere in the j-th sector ahead.
    struct Place {
        int j;
        double part;
        double spacing_um;
    };
    static std::vector<PitchOptimiser> optimisersFor(const PlanSetup& setup, int horizon,
                                                     int rehearsedHorizon);
    /// Which one plans when a rehearsal tells so many boundaries: only one that is told all it looks at.
    std::size_t optimiserFor(int told) const noexcept {
        return told >= outlookMost() ? optimisers.size() - 1 : 0;
    }
    double wishAhead_um(int j, double command_um) const noexcept;
    /// Demands raised by what the spacing sags, and that by itself.
    struct Raised {
        std::vector<double> needed_um, added_um;
        explicit Raised(int most)
            : needed_um(static_cast<std::size_t>(most)), added_um(static_cast<std::size_t>(most)) {}
    };
    DemandAhead withSag(DemandAhead demand, const PitchAim& aim, Raised& raised) const noexcept;
    void beginPlan(const DemandAhead& demand, const PitchAim& aim) noexcept;
    PitchOptimiser& optimiser() noexcept { return optimisers[active]; }
    const PitchOptimiser& optimiser() const noexcept { return optimisers[active]; }
    void noteSteady(double spacing_um) noexcept;
    bool staysSteady(const DemandAhead& demand) const noexcept;
    bool isAlike(double spacing_um) const noexcept;
    double optimised_um(const DemandAhead& demand, const PitchAim& aim) noexcept;
    void advance(double command_um) noexcept;
    double floor_um(const DemandAhead& demand) const noexcept;
    double cappedFloor_um(const DemandAhead& demand, double pitch_um, double greatest_um) noexcept;
    double raised_um(const DemandAhead& demand, int j, double pitch_um, double greatest_um) noexcept;
    double raisedFor_um(Place place, double pitch_um, double greatest_um) const noexcept;
    double worstShortfall_um(const DemandAhead& demand, double command_um) noexcept;
    double cappedRun_um_s(int j, double pitch_um) const noexcept;
    double pastLimit_um(int j, double pitch_um) const noexcept;
    double cappedRunAtLeast_um_s(int j, double pitch_um) const noexcept;
    template <typename Run>
    double spacingOf_um(int j, Run run_um_s) const noexcept;
    double spacingAtLeast_um(int j, double pitch_um) const noexcept;
    double cappedSpacing_um(int j, double pitch_um) const noexcept;
    bool surelyMet(const DemandAhead& demand, int j, double pitch_um) noexcept;
    double shortfallAt_um(Place place, double pitch_um) const noexcept;
    double before_um(int j) const noexcept;

    /// Spacing at a boundary ahead when the pitch goes to v1 and on at full slew: v1 · perPitch + rest.
    struct Reach {
        double perPitch, rest_um;
    };
    Reach reach(int j) const noexcept;

    PlanSetup setup;
    std::size_t
        floorHorizon; ///< boundaries ahead whose demand is known well enough to be a floor, and matters
    std::vector<PitchOptimiser>
        optimisers; ///< for what is heard; and, if there may be one, for what is rehearsed
    std::size_t active = 0;
    RampModel model;
    FullSlewForecast rising; ///< at full slew
    std::vector<FullSlewForecast::Linear>
        spacings; ///< by boundary ahead; for the first turn the travel from now
    SectorRing<double> positions_um;
    SectorRing<double> bulges_um; ///< how far a sector's path rises above a straight line, at most
    Raised floor, planned;        ///< of the demand that is a floor, and of what is being planned for
    double lastSag_um = 0;
    struct Sure {
        std::int64_t boundary;
        int j;
        double pitch_um, spacing_um;
    };
    Sure sure{-1, 0, 0, 0};    ///< what surelyMet() reckoned last
    std::int64_t binding = -1; ///< boundary that last raised the floor for the limit's sake
    std::int64_t boundary = 0;
    AxisState now;
    PitchAim aimed{};             ///< of the last step
    std::vector<double> ahead_um; ///< positions foreseen, from the present boundary
    double target_um = 0;         ///< what the optimiser asked for, and how many sectors from now
    int sectorsToTarget = 0;
    static constexpr auto nothingYet_um = -std::numeric_limits<double>::infinity();
    double steady_um = nothingYet_um; ///< demand of the last sectors, so many alike
    std::int64_t steadySectors = 0;
};

} // namespace headland::plan
