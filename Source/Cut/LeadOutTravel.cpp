// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/LeadOutTravel.h"

#include "Disc/Format.h"
#include "Plan/RampModel.h"

#include <algorithm>
#include <cmath>

namespace headland::cut {

double leadOutFinest_um(const CutSettings& s) noexcept {
    return std::min(s.lead_out_pitch_um, disc::leadOutPitchFinest_um);
}

double closingTravel_mm(const CutSettings& s, double command_um, double pitch_um) noexcept {
    const auto ramp_um_s = command_um * command_um / (2 * s.spiral_slew_um_per_rev_s);
    return (ramp_um_s + s.carriage_lag_s * pitch_um) / s.turn_s() / 1000;
}

/// The command goes straight to the lead-out's pitch, stays, and closes in time for the turn's end; where the drive is too slow
/// for that, it turns round on the way.
double leadOutTravel_mm(const CutSettings& s) noexcept {
    const plan::RampModel model(s.sector_s(), s.carriage_lag_s);
    const auto reach_um = s.spiral_slew_um_per_rev_s * s.sector_s();
    const auto finest_um = leadOutFinest_um(s);
    plan::AxisState state{s.pitch_max_um, s.pitch_max_um};
    auto travelled_um_s = 0.0;
    for (auto left = s.sectors_per_turn; left > std::ceil(state.command_um / reach_um); --left) {
        const auto next = model.after(
            state, std::clamp(finest_um, state.command_um - reach_um, state.command_um + reach_um));
        travelled_um_s += model.integral(state, next);
        state = next;
    }
    return travelled_um_s / s.turn_s() / 1000 + closingTravel_mm(s, state.command_um, state.axis_um);
}

} // namespace headland::cut
