// SPDX-License-Identifier: GPL-3.0-or-later
// Everything a cut is set up with, as one plain struct with units in the names, and the check that refuses
// a set-up before the stylus goes down. Ranges, defaults and reasons stand in Cut/SettingsTable.
// Plain data; copy it between threads.
#pragma once

#include "Disc/Format.h"

#include <string>
#include <vector>

namespace headland::cut {

/// Set-up of one cut. Member names are the keys of `--set`, presets and JSON (docs name each one).
/// The values here are those of an ordinary 30 cm 33⅓ side; the reason for each is in the settings table.
struct CutSettings {
    // Disc
    int format = 0; ///< index into disc::formats()
    double rpm = 100.0 / 3.0;
    double start_radius_mm = 146.3;
    double end_radius_mm = 60.325;
    double finishing_radius_mm = 53.2;
    double side_length_s = 0.0; ///< 0 = not known

    // Program
    double reference_velocity_cm_s = 5.0;
    double alignment_dbfs = -18.0;
    double disc_level_db = 0.0;
    double highpass_hz = 12.0;

    // Groove
    double land_min_um = 12.0;
    double width_min_um = 30.0;
    double depth_basic_um = 25.0;
    double depth_max_um = 60.0;
    double depth_peak_max_um = 120.0;
    double back_angle_deg = 45.0;
    double tip_radius_um = 18.0;

    // Lathe
    double pitch_min_um = 50.0;
    double pitch_max_um = 400.0;
    double pitch_slew_um_per_rev_s = 400.0;
    double carriage_lag_s = 0.05;
    double depth_slew_um_s = 300.0;
    double depth_lag_s = 0.01;
    double spiral_slew_um_per_rev_s = 10000.0;

    // Preview
    double preview_s = 1.8;
    double preview_tolerance_s = 0;
    double speed_tolerance = 0.001;
    int sectors_per_turn = 256;
    double steady_pitch_percent = 1.0;
    int pitch_optimiser = 1; ///< 0: the hard floor by itself

    // Lead-in, bands and lead-out
    double lead_in_pitch_um = disc::leadInPitch_um;
    double lead_in_turns = 1.25;
    double band_pitch_um = 800.0;
    double band_turns = 1.0;
    double lead_out_pitch_um = disc::leadOutPitch_um;
    double lead_out_turns = 1.0;
    int disc_end = 0; ///< 0: lead out where the disc ends, 1: lift

    /// One revolution, s.
    double turn_s() const noexcept { return 60.0 / rpm; }

    /// One sector, s.
    double sector_s() const noexcept { return turn_s() / sectors_per_turn; }

    /// How far one turn may be shifted against what it is paired with, s: platter speed over one turn and the preview delay.
    double guard_s() const noexcept { return speed_tolerance * turn_s() + preview_tolerance_s; }

    /// Where the lead-out must begin at the latest, mm: one turn of it at the finest pitch the standard allows then
    /// ends at the finishing radius. Finite for settings in their ranges.
    double stopRadius_mm() const noexcept;

    /// The format's figures.
    const disc::Format& discFormat() const noexcept;

    /// Takes speed, radii and a preview of one revolution from the format with this index.
    void applyFormat(int index) noexcept;
};

/// Every problem of the set-up at this sample rate, each one sentence that says what, why and what to do;
/// empty when the cut can be prepared.
std::vector<std::string> validate(const CutSettings& settings, double sampleRate_hz);

/// Throws std::invalid_argument with all of them, a line each, when there are any.
void requireValid(const CutSettings& settings, double sampleRate_hz);

} // namespace headland::cut
