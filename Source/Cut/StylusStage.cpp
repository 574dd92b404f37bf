// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/StylusStage.h"

#include "Plan/RampModel.h"

#include <algorithm>
#include <cmath>

namespace headland::cut {

namespace {

/// The pitch to rest at: what silence needs. Resting below it, at the least pitch, would only put the spacing off to the end
/// of the turn, and the pitch would swing once a turn for ever.
double restingPitch_um(const CutSettings& s) {
    return std::max(s.pitch_min_um, 2 * s.depth_basic_um + s.land_min_um);
}

std::int64_t closingLength(const CutSettings& s, std::int64_t leadIn) {
    constexpr double settledLags = 4; // e^-4: the carriage is within 2 % of the way
    const auto closing_s = std::abs(s.lead_in_pitch_um - restingPitch_um(s)) / s.spiral_slew_um_per_rev_s
                           + settledLags * s.carriage_lag_s;
    const auto sectors = static_cast<std::int64_t>(std::ceil(closing_s / s.turn_s() * s.sectors_per_turn));
    return std::min(sectors, leadIn - 1);
}

/// Travel of a lead-in that nothing widens, mm: the program then starts exactly at the start radius, otherwise further in.
double nominalTravel_mm(const CutSettings& s, std::int64_t leadIn, std::int64_t closing) {
    const auto sector_s = s.turn_s() / s.sectors_per_turn;
    const plan::RampModel model(sector_s, s.carriage_lag_s);
    const auto reach_um = s.spiral_slew_um_per_rev_s * sector_s;
    plan::AxisState state{s.lead_in_pitch_um, s.lead_in_pitch_um};
    auto travelled_um_s = 0.0;
    for (std::int64_t k = 0; k < leadIn; ++k) {
        const auto wish_um = k < leadIn - closing ? s.lead_in_pitch_um : restingPitch_um(s);
        const auto next =
            model.after(state, std::clamp(wish_um, state.command_um - reach_um, state.command_um + reach_um));
        travelled_um_s += model.integral(state, next);
        state = next;
    }
    return travelled_um_s / s.turn_s() / 1000;
}

} // namespace

StylusStage::StylusStage(const CutSettings& s)
    : settings(s),
      leadIn(static_cast<std::int64_t>(std::ceil(s.lead_in_turns * s.sectors_per_turn))),
      closingSectors(closingLength(s, leadIn)),
      leadInTravel(nominalTravel_mm(s, leadIn, closingSectors)) {}

void StylusStage::enter(std::int64_t sector, const StylusSituation& now) noexcept {
    if (current == State::up)
        return;
    if (sector < leadIn)
        return enterLeadIn(sector);
    if (!now.programOver)
        return enterProgram(now);
    if (current != State::finishing)
        enterLeadOut(now);
    if (current == State::finishing)
        enterFinishing();
}

void StylusStage::enterLeadIn(std::int64_t sector) noexcept {
    const auto wish_um =
        sector < leadIn - closingSectors ? settings.lead_in_pitch_um : restingPitch_um(settings);
    slew = settings.spiral_slew_um_per_rev_s;
    pitchAim = {true, false, wish_um, std::max(settings.lead_in_pitch_um, settings.pitch_max_um), slew, slew};
}

void StylusStage::enterProgram(const StylusSituation& now) noexcept {
    current = State::program;
    const auto stillClosing = now.command_um > settings.pitch_max_um;
    slew = stillClosing ? settings.spiral_slew_um_per_rev_s : settings.pitch_slew_um_per_rev_s;
    pitchAim = {true,
                settings.pitch_optimiser == 1,
                restingPitch_um(settings),
                settings.pitch_max_um,
                settings.pitch_slew_um_per_rev_s,
                slew};
}

double StylusStage::room_um(const StylusSituation& now) const noexcept {
    return (now.radius_mm - settings.finishing_radius_mm) * 1000;
}

/// Whether the groove, closing at the spiral's slew from the next sector on, would run past the finishing radius.
bool StylusStage::mustClose(const StylusSituation& now) const noexcept {
    const auto closing_um = (now.command_um * now.command_um / (2 * settings.spiral_slew_um_per_rev_s)
                             + settings.carriage_lag_s * now.pitch_um)
                            / settings.turn_s();
    return room_um(now) <= closing_um + std::max(now.command_um, now.pitch_um) / settings.sectors_per_turn;
}

void StylusStage::enterLeadOut(const StylusSituation& now) noexcept {
    if (current != State::leadOut) {
        current = State::leadOut;
        leadOutPitch_um = std::min(settings.lead_out_pitch_um, room_um(now) / settings.lead_out_turns);
        if (leadOutPitch_um <= 0) {
            current = State::up; // no room: the stylus is lifted at the program's end
            return;
        }
    }
    slew = settings.spiral_slew_um_per_rev_s;
    closing = closing || mustClose(now);
    const auto wish_um = closing ? 0.0 : leadOutPitch_um;
    pitchAim = {!closing, false, wish_um, std::max(leadOutPitch_um, settings.pitch_max_um), slew, slew};
    if (closing && now.command_um <= 0)
        current = State::finishing;
}

void StylusStage::enterFinishing() noexcept {
    pitchAim = {false, false, 0.0, settings.pitch_max_um, slew, slew};
    if (finishingSectors++ == settings.sectors_per_turn)
        current = State::up;
}

} // namespace headland::cut
