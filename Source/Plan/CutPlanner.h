// SPDX-License-Identifier: GPL-3.0-or-later
// Depth and pitch together: takes what the preview head hears, sector by sector, and says what the lathe shall do
// in each sector that reaches the stylus. Knows what it does not know: past the preview the program is taken as quiet.
// Sized once, bounded time a sector; audio thread.
#pragma once

#include "Plan/DepthPlanner.h"
#include "Plan/PitchPlanner.h"
#include "Plan/SectorExtremes.h"

#include <vector>

namespace headland::plan {

/// Commands for one sector, each reached in a straight line from where it was.
struct SectorPlan {
    double pitch_um;  ///< pitch command at the sector's end
    double depth_um;  ///< depth command at the sector's end
    double demand_um; ///< spacing the sector demands against the turn before; minus infinity without one
    double
        shortfall_um; ///< how far a known demand of pitch or depth will be missed, at the best; 0 when none
    bool limited;     ///< the sector's demand is beyond the greatest pitch or depth
};

class CutPlanner {
public:
    explicit CutPlanner(const PlanSetup& setup);

    /// The next sector as the preview head heard it, from sector 0 on.
    void hear(const SectorExtremes& extremes) noexcept;

    /// The stylus goes down, at boundary 0, with this pitch.
    void start(double pitch_um) noexcept { pitch.start(pitch_um); }

    /// Decides the next sector, from sector 0 on.
    SectorPlan plan(const PitchAim& aim) noexcept;

private:
    double pairing_um(std::int64_t sector) const noexcept;
    double spacing_um(std::int64_t boundary) const noexcept;
    SectorExtremes widened(std::int64_t sector) const noexcept;

    PlanSetup setup;
    int horizon;
    SectorRing<SectorExtremes> heardRing;   ///< as heard
    SectorRing<SectorExtremes> guardedRing; ///< widened
    std::int64_t heard = 0;
    std::int64_t known = 0;
    double typicalOuter_um = 0; ///< mean over about the last turn heard
    DepthPlanner depth;
    PitchPlanner pitch;
    std::vector<double> spacings_um;
};

} // namespace headland::plan
