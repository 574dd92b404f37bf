// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/PlanSetupOf.h"

#include "Disc/SectorClock.h"

#include <algorithm>
#include <cmath>

namespace headland::cut {

namespace {

constexpr double binMost_s = 0.6e-3; ///< what is lost by pairing in longer ones: docs/theory/planner.md
constexpr int foresightTurns = 4; ///< heard and rehearsed together; more hardly pays: docs/theory/planner.md
constexpr double rounding = 1e-9;

/// The planner's price for the pitch's travel that costs about so much disc: measured on recorded music
/// (docs/theory/planner.md), where each per cent more stands for a little less of it.
double travelPrice(double disc_percent) {
    return 0.036 * std::pow(disc_percent, 0.65);
}

} // namespace

plan::PlanSetup planSetup(const CutSettings& s, double sampleRate_hz, bool isRehearsed) {
    plan::PlanSetup p{};
    p.turn_s = s.turn_s();
    p.sectorsPerTurn = s.sectors_per_turn;
    p.binsPerSector = static_cast<int>(std::ceil(p.sector_s() / binMost_s - rounding));
    // A whole turn of samples at the usual rates; elsewhere the turn before lies between two samples.
    const auto turn_samples = disc::SectorClock(sampleRate_hz, s.turn_s(), s.sectors_per_turn).turnSamples();
    const auto isWhole = turn_samples == std::round(turn_samples);
    const auto bins = [&](double either_s) {
        return static_cast<int>(std::ceil(either_s * p.binsPerTurn() / s.turn_s() - rounding));
    };
    p.platterBins = bins(s.speed_tolerance * s.turn_s() + (isWhole ? 0 : 1 / sampleRate_hz));
    p.previewBins = bins(s.preview_tolerance_s);
    const auto sector_samples = p.sector_s() * sampleRate_hz;
    p.previewSectors =
        static_cast<int>(static_cast<double>(previewLength_samples(s, sampleRate_hz)) / sector_samples) + 1;
    if (isRehearsed)
        p.rehearsedSectors = std::max(0, foresightTurns * s.sectors_per_turn - p.previewSectors);
    p.landMin_um = s.land_min_um;
    p.widthMin_um = s.width_min_um;
    p.depthBasic_um = s.depth_basic_um;
    p.depth = {s.depth_basic_um, s.depth_max_um, s.depth_slew_um_s, s.depth_lag_s};
    p.pitch = {s.pitch_min_um, s.pitch_max_um, s.pitch_slew_um_per_rev_s, s.carriage_lag_s};
    p.travelPrice = travelPrice(s.steady_pitch_percent);
    return p;
}

} // namespace headland::cut
