// SPDX-License-Identifier: GPL-3.0-or-later
// A program as the planner hears it, without the engine around it: the extremes of each sector, and the planner's set-up.
#pragma once

#include "Cut/CutSettings.h"
#include "Groove/RecordingCharacteristic.h"
#include "Groove/WallFilter.h"
#include "Plan/PlanSetup.h"
#include "Plan/SectorExtremes.h"
#include "Tests/Cut/TestPrograms.h"

#include <cmath>
#include <span>
#include <vector>

namespace headland::test {

/// What each whole sector of a program asks for.
inline std::vector<plan::SectorExtremes> extremesOf(const cut::CutSettings& s, const Program& p) {
    const auto velocity =
        groove::fullScaleVelocity_um_s(s.reference_velocity_cm_s, s.alignment_dbfs, s.disc_level_db);
    groove::DisplacementFilter walls(groove::designWallFilter(p.rate_hz, s.highpass_hz, velocity));
    const auto sector = s.turn_s() * p.rate_hz / s.sectors_per_turn; // not a whole number of samples
    std::vector<plan::SectorExtremes> all;
    plan::ExtremeCollector collector;
    for (std::size_t first = 0;;) {
        const auto last =
            static_cast<std::size_t>(std::llround(static_cast<double>(all.size() + 1) * sector));
        if (last > p.length())
            return all;
        std::vector<double> left_um(last - first), right_um(last - first);
        walls.process(std::span(p.left).subspan(first, last - first),
                      std::span(p.right).subspan(first, last - first), left_um, right_um);
        collector.add(left_um, right_um);
        all.push_back(collector.take());
        first = last;
    }
}

/// As the engine sets the planner up.
inline plan::PlanSetup planSetupOf(const cut::CutSettings& s) {
    return {s.turn_s(),
            s.sectors_per_turn,
            s.guardSectors(),
            static_cast<int>(s.preview_s / s.turn_s() * s.sectors_per_turn) + 1,
            s.land_min_um,
            s.width_min_um,
            s.depth_basic_um,
            {s.depth_basic_um, s.depth_max_um, s.depth_slew_um_s, s.depth_lag_s},
            {s.pitch_min_um, s.pitch_max_um, s.pitch_slew_um_per_rev_s, s.carriage_lag_s}};
}

} // namespace headland::test
