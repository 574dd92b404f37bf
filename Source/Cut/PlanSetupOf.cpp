// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/PlanSetupOf.h"

namespace headland::cut {

plan::PlanSetup planSetup(const CutSettings& s, double sampleRate_hz) {
    plan::PlanSetup p{};
    p.turn_s = s.turn_s();
    p.sectorsPerTurn = s.sectors_per_turn;
    p.guardSectors = s.guardSectors();
    const auto sector_samples = p.sector_s() * sampleRate_hz;
    p.previewSectors =
        static_cast<int>(static_cast<double>(previewLength_samples(s, sampleRate_hz)) / sector_samples) + 1;
    p.landMin_um = s.land_min_um;
    p.widthMin_um = s.width_min_um;
    p.depthBasic_um = s.depth_basic_um;
    p.depth = {s.depth_basic_um, s.depth_max_um, s.depth_slew_um_s, s.depth_lag_s};
    p.pitch = {s.pitch_min_um, s.pitch_max_um, s.pitch_slew_um_per_rev_s, s.carriage_lag_s};
    return p;
}

} // namespace headland::cut
