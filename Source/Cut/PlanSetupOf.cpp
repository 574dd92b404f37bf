// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/PlanSetupOf.h"

#include "Disc/SectorClock.h"

#include <algorithm>
#include <cmath>

namespace headland::cut {

namespace {

constexpr double binMost_s = 0.6e-3; ///< what is lost by pairing in longer ones: docs/theory/planner.md
constexpr int binsMost = 128;        ///< of a sector
constexpr int foresightTurns = 4; ///< heard and rehearsed together; more hardly pays: docs/theory/planner.md
constexpr double rounding = 1e-9;

/// The planner's price for the pitch's travel that costs about so much disc: measured on recorded music
/// (docs/theory/planner.md), where each per cent more stands for a little less of it.
double travelPrice(double disc_percent) {
    return 0.042 * std::pow(disc_percent, 0.65);
}

/// How many bins on either side are widened by so much.
int binsWidened(double either_s, double bin_s) {
    return static_cast<int>(std::ceil(either_s / bin_s - rounding));
}

/// What is paired with a bin is longer than the bin by what the tolerances say, rounded up to whole bins; each millisecond of it
/// costs about half a per cent of the disc. So up to two thirds more bins than need be, if they round better.
int binsOfSector(double sector_s, double platter_s, double preview_s) {
    const auto fewest = static_cast<int>(std::ceil(sector_s / binMost_s - rounding));
    const auto paired_s = [&](int bins) {
        const auto bin_s = sector_s / bins;
        return bin_s * (1 + 2 * (binsWidened(platter_s, bin_s) + binsWidened(preview_s, bin_s)));
    };
    auto best = fewest;
    for (auto bins = fewest + 1; bins <= std::min(fewest + 2 * fewest / 3, binsMost); ++bins)
        if (paired_s(bins) < paired_s(best))
            best = bins;
    return best;
}

} // namespace

plan::PlanSetup planSetup(const CutSettings& s, double sampleRate_hz, bool isRehearsed) {
    plan::PlanSetup p{};
    p.turn_s = s.turn_s();
    p.sectorsPerTurn = s.sectors_per_turn;
    // A whole turn of samples at the usual rates; elsewhere the turn before lies between two samples.
    const auto turn_samples = disc::SectorClock(sampleRate_hz, s.turn_s(), s.sectors_per_turn).turnSamples();
    const auto isWhole = turn_samples == std::round(turn_samples);
    const auto platter_s = s.speed_tolerance * s.turn_s() + (isWhole ? 0 : 1 / sampleRate_hz);
    p.binsPerSector = binsOfSector(p.sector_s(), platter_s, s.preview_tolerance_s);
    p.platterBins = binsWidened(platter_s, p.sector_s() / p.binsPerSector);
    p.previewBins = binsWidened(s.preview_tolerance_s, p.sector_s() / p.binsPerSector);
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
