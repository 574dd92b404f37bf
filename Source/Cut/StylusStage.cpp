// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/StylusStage.h"

#include "Cut/LeadOutTravel.h"
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

std::int64_t closingLength(const CutSettings& s, double pitch_um) {
    constexpr double settledLags = 4; // e^-4: the carriage is within 2 % of the way
    const auto closing_s =
        std::abs(pitch_um - restingPitch_um(s)) / s.spiral_slew_um_per_rev_s + settledLags * s.carriage_lag_s;
    return static_cast<std::int64_t>(std::ceil(closing_s / s.turn_s() * s.sectors_per_turn));
}

std::int64_t wholeSectors(const CutSettings& s, double turns) {
    return static_cast<std::int64_t>(std::ceil(turns * s.sectors_per_turn));
}

} // namespace

StylusStage::Spiral StylusStage::leadInOf(const CutSettings& s) {
    const auto sectors = wholeSectors(s, s.lead_in_turns);
    return {s.lead_in_pitch_um, sectors, std::min(closingLength(s, s.lead_in_pitch_um), sectors - 1)};
}

StylusStage::Spiral StylusStage::bandOf(const CutSettings& s) {
    const auto closing = closingLength(s, s.band_pitch_um);
    return {s.band_pitch_um, wholeSectors(s, s.band_turns) + closing, closing};
}

/// Travel of a lead-in that nothing widens, mm: the program then starts exactly at the start radius, otherwise further in.
double StylusStage::nominalTravel_mm(const CutSettings& s, const Spiral& spiral) {
    const auto sector_s = s.turn_s() / s.sectors_per_turn;
    const plan::RampModel model(sector_s, s.carriage_lag_s);
    const auto reach_um = s.spiral_slew_um_per_rev_s * sector_s;
    plan::AxisState state{spiral.pitch_um, spiral.pitch_um};
    auto travelled_um_s = 0.0;
    for (std::int64_t k = 0; k < spiral.sectors; ++k) {
        const auto wish_um =
            k < spiral.sectors - spiral.closingSectors ? spiral.pitch_um : restingPitch_um(s);
        const auto next =
            model.after(state, std::clamp(wish_um, state.command_um - reach_um, state.command_um + reach_um));
        travelled_um_s += model.integral(state, next);
        state = next;
    }
    return travelled_um_s / s.turn_s() / 1000;
}

StylusStage::StylusStage(const CutSettings& s)
    : settings(s),
      leadIn(leadInOf(s)),
      band(bandOf(s)),
      leadInTravel(nominalTravel_mm(s, leadIn)),
      leadOutTravel(leadOutTravel_mm(s)) {}

void StylusStage::begin(State next) noexcept {
    course = next;
    sectors = 0;
}

void StylusStage::lower() noexcept {
    begin(State::leadIn);
    leadOutPitch_um = 0;
    closing = false;
}

bool StylusStage::cue(Cue cue) noexcept {
    const auto is = [this](auto... states) { return ((course == states) || ...); };
    switch (cue) {
    case Cue::lift:
        return false; // lift() does that
    case Cue::leadIn:
        if (!is(State::leadIn))
            return false;
        begin(State::leadIn);
        return true;
    case Cue::program: // closes the lead-in or the band now
        if (!is(State::leadIn, State::band))
            return false;
        sectors = std::max(sectors, is(State::band) ? band.sectors - band.closingSectors
                                                    : leadIn.sectors - leadIn.closingSectors);
        return true;
    case Cue::band:
        if (!is(State::program, State::band))
            return false;
        begin(State::band);
        return true;
    case Cue::leadOut:
        if (!is(State::leadIn, State::program, State::band))
            return false;
        begin(State::leadOut);
        return true;
    case Cue::finishing:
        if (is(State::up, State::finishing))
            return false;
        if (!is(State::leadOut))
            begin(State::leadOut);
        closing = true;
        return true;
    }
    return false;
}

bool StylusStage::discEnds(const StylusSituation& now) const noexcept {
    if (course != State::leadIn && course != State::program && course != State::band)
        return false;
    const auto closing = closingTravel_mm(settings, now.command_um, now.pitch_um);
    return room_mm(now) <= std::max(leadOutTravel, closing) + sectorTravel_mm(now);
}

void StylusStage::enter(const StylusSituation& now) noexcept {
    // A lathe that does not close as it is told must not go on for ever.
    if (!isUp() && room_mm(now) < -settings.discFormat().finishingTolerance_mm / 2)
        return lift();
    if (discEnds(now)) {
        if (settings.disc_end == 1)
            return lift();
        begin(State::leadOut);
    }
    if (course == State::leadIn && runSpiral(leadIn))
        begin(State::program);
    if (course == State::band && runSpiral(band))
        begin(State::program);
    if (course == State::program)
        runProgram(now);
    if (course == State::leadOut)
        runLeadOut(now);
    if (course == State::finishing)
        runFinishing();
    ++sectors;
    current = course;
}

/// Returns true when the spiral is over.
bool StylusStage::runSpiral(const Spiral& spiral) noexcept {
    const auto wish_um =
        sectors < spiral.sectors - spiral.closingSectors ? spiral.pitch_um : restingPitch_um(settings);
    slew = settings.spiral_slew_um_per_rev_s;
    pitchAim = {true, false, wish_um, std::max(spiral.pitch_um, settings.pitch_max_um), slew, slew};
    return sectors >= spiral.sectors;
}

void StylusStage::runProgram(const StylusSituation& now) noexcept {
    const auto stillClosing = now.command_um > settings.pitch_max_um;
    slew = stillClosing ? settings.spiral_slew_um_per_rev_s : settings.pitch_slew_um_per_rev_s;
    pitchAim = {true,
                settings.pitch_optimiser == 1,
                restingPitch_um(settings),
                settings.pitch_max_um,
                settings.pitch_slew_um_per_rev_s,
                slew};
}

double StylusStage::room_mm(const StylusSituation& now) const noexcept {
    return now.radius_mm - settings.finishing_radius_mm;
}

/// The most that the sector which is decided now can take.
double StylusStage::sectorTravel_mm(const StylusSituation& now) const noexcept {
    const auto reach_um = settings.spiral_slew_um_per_rev_s * settings.sector_s();
    return (std::max(now.command_um, now.pitch_um) + reach_um) / settings.sectors_per_turn / 1000;
}

/// Whether the groove, closing at the spiral's slew from the next sector on, would run past the finishing radius.
bool StylusStage::mustClose(const StylusSituation& now) const noexcept {
    return room_mm(now) <= closingTravel_mm(settings, now.command_um, now.pitch_um) + sectorTravel_mm(now);
}

void StylusStage::runLeadOut(const StylusSituation& now) noexcept {
    if (leadOutPitch_um == 0)
        leadOutPitch_um =
            std::min(settings.lead_out_pitch_um,
                     std::max(leadOutFinest_um(settings), 1000 * room_mm(now) / settings.lead_out_turns));
    slew = settings.spiral_slew_um_per_rev_s;
    closing = closing || mustClose(now);
    const auto wish_um = closing ? 0.0 : leadOutPitch_um;
    pitchAim = {!closing, false, wish_um, std::max(leadOutPitch_um, settings.pitch_max_um), slew, slew};
    if (closing && now.command_um <= 0)
        begin(State::finishing);
}

void StylusStage::runFinishing() noexcept {
    pitchAim = {false, false, 0.0, settings.pitch_max_um, slew, slew};
    if (sectors == settings.sectors_per_turn)
        lift();
}

} // namespace headland::cut
