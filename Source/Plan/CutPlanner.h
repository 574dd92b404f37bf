// SPDX-License-Identifier: GPL-3.0-or-later
// Depth and pitch together: takes what the preview head hears, sector by sector, and says what the lathe shall do
// in each sector that reaches the stylus. Knows what it does not know: past the preview the program is taken as quiet.
// Sized once, bounded time a sector; audio thread.
#pragma once

#include "Plan/DepthPlanner.h"
#include "Plan/Foresight.h"
#include "Plan/PitchPlanner.h"
#include "Plan/ProfileWatch.h"
#include "Plan/Rehearsed.h"
#include "Plan/SectorExtremes.h"
#include "Plan/SlidingMax.h"

#include <vector>

namespace headland::plan {

/// What the person at the lathe adds to the set-up while cutting, µm, never negative: heard with the program and so
/// planned for as that is, without a step.
struct Ride {
    double landAdd_um = 0;  ///< more land than the least
    double depthAdd_um = 0; ///< deeper than the basic depth, as far as the greatest
};

/// Commands for one sector, each reached in a straight line from where it was.
struct SectorPlan {
    double pitch_um;  ///< pitch command at the sector's end
    double depth_um;  ///< depth command at the sector's end
    double demand_um; ///< spacing the sector demands against the turn before; minus infinity without one
    double
        shortfall_um; ///< how far a known demand of pitch or depth will be missed, at the best; 0 when none. What
                      ///< the sector itself misses of its spacing is never more than this
    bool limited;     ///< the sector's demand is beyond the greatest pitch or depth
};

class CutPlanner : private SectorDemand {
public:
    explicit CutPlanner(const PlanSetup& setup);
    CutPlanner(const CutPlanner&) = delete; // the optimiser asks it while it works
    CutPlanner& operator=(const CutPlanner&) = delete;

    /// The next sector as the preview head heard it, from sector 0 on: its bins, as many as the set-up says.
    void hear(std::span<const SectorExtremes> bins, const Ride& ride = {}) noexcept;

    /// The stylus goes down, at this boundary, with this pitch. Of what was heard before only what has not reached the
    /// stylus yet counts.
    void start(double pitch_um, std::int64_t atBoundary = 0) noexcept;

    /// From now on this profile, which must live as long as this, is asked what comes after what has been heard; until it is noticed
    /// that it tells something else. Again, with another place: the program turned out to be there.
    void believe(const Profile& profile, const ProfilePlace& place) noexcept;
    bool believes() const noexcept { return rehearsed.isUsed(); }
    /// No profile is asked any more.
    void doubt() noexcept {
        rehearsed.drop();
        watch.end();
    }

    /// Decides the next sector, from the one on that begins where the stylus went down.
    SectorPlan plan(const PitchAim& aim) noexcept;

    /// A small share of the work on the pitch to come, so that plan() has less to do: to be called a few times a sector, as often
    /// as a sector has bins. What plan() decides does not depend on it.
    void work() noexcept {
        pitch.work();
        watch.work();
    }

    /// What is coming after the sector planned last, as the plan stands. Everything but `time_s`, which is the caller's.
    void foresee(Foresight& coming) noexcept;
    /// With the stylus up: what has been heard from this sector on, without a plan.
    void foreseeHeard(Foresight& coming, std::int64_t from) const noexcept;

private:
    int parts() const noexcept override { return setup.binsPerSector; }
    void within(std::int64_t sector, Places& spacing_um) const noexcept override;

    bool hasTurnBefore(std::int64_t sector) const noexcept { return sector - setup.sectorsPerTurn >= first; }
    double landAdd_um(std::int64_t sector) const noexcept;
    double swing_um(std::int64_t sector) const noexcept;
    double pair_um(std::int64_t sector, int i) const noexcept;
    double depths_um(std::int64_t boundary) const noexcept;
    double bulges_um(std::int64_t sector) const noexcept;
    double demand_um(std::int64_t sector) const noexcept;
    double demandBetween_um(std::int64_t sector, double begin_um, double end_um) const noexcept;
    std::span<const double> demandAhead(std::int64_t sector) noexcept;
    std::span<const double> outlookAhead(std::int64_t sector, int told) noexcept;
    void lookAhead() noexcept;
    double outlook_um(std::int64_t sector) const noexcept;
    double depthOutlook_um(std::int64_t boundary) const noexcept;
    double missed_um(std::int64_t sector) const noexcept;
    void hearBin(const SectorExtremes& bin) noexcept;
    void know(std::int64_t bin, double pair_um, double upward_um) noexcept;
    std::int64_t divide(Foresight& coming, std::int64_t from) const noexcept;
    void showTightest(ForesightStep& shown, std::int64_t sector, std::int64_t end) const noexcept;
    ForesightStep heardStep(std::int64_t from, std::int64_t end) const noexcept;

    PlanSetup setup;
    int horizon;
    SectorRing<SectorExtremes> heardRing; ///< as heard
    SectorRing<Ride> rides;               ///< as they were when the sector was heard
    SectorRing<double> innerBins_um;      ///< inner swing of each bin, widened by the platter's tolerance
    SectorRing<double> innerSectors_um;   ///< the greatest of a sector's
    SectorRing<double>
        swings_um; ///< greatest sum of both edges' swings towards each other at one angle, of known sectors
    SectorRing<double> pairBins_um; ///< such a sum of each bin, of the sectors that are planned for
    SlidingMax widestInner, widestPair, widestUpward;
    std::int64_t first = 0; ///< where the stylus went down
    std::int64_t heard = 0; ///< sectors
    std::int64_t heardBins = 0;
    std::int64_t known = 0;     ///< sectors heard with all that may be shifted into them
    double upward_um = 0;       ///< of the sector that is becoming known
    double typicalOuter_um = 0; ///< mean over about the last turn heard
    DepthPlanner depth;
    PitchPlanner pitch;
    Rehearsed rehearsed;
    ProfileWatch watch;
    std::vector<double> spacings_um, outlooks_um;
    double shortfall_um = 0;                              ///< of the last plan
    std::vector<double> comingPitch_um, comingSpacing_um; ///< foreseen
};

} // namespace headland::plan
