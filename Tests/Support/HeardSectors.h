// SPDX-License-Identifier: GPL-3.0-or-later
// A program as the planner hears it, without the engine around it: the extremes of each sector or bin.
#pragma once

#include "Cut/CutSettings.h"
#include "Groove/RecordingCharacteristic.h"
#include "Groove/WallFilter.h"
#include "Plan/SectorExtremes.h"
#include "Tests/Cut/TestPrograms.h"

#include <cmath>
#include <span>
#include <vector>

namespace headland::test {

/// What each whole sector of a program asks for, or each of so many bins of it.
inline std::vector<plan::SectorExtremes> extremesOf(const cut::CutSettings& s, const Program& p,
                                                    int binsPerSector = 1) {
    const auto velocity =
        groove::fullScaleVelocity_um_s(s.reference_velocity_cm_s, s.alignment_dbfs, s.disc_level_db);
    groove::DisplacementFilter walls(groove::designWallFilter(p.rate_hz, s.highpass_hz, velocity));
    const auto bin =
        s.turn_s() * p.rate_hz / (s.sectors_per_turn * binsPerSector); // not a whole number of samples
    std::vector<plan::SectorExtremes> all;
    plan::ExtremeCollector collector;
    for (std::size_t first = 0;;) {
        const auto last = static_cast<std::size_t>(std::llround(static_cast<double>(all.size() + 1) * bin));
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

} // namespace headland::test
