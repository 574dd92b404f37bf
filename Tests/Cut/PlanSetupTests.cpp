// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/PlanSetupOf.h"

#include <catch2/catch.hpp>

using namespace headland;

namespace {

constexpr double rate_hz = 44100;
constexpr double rounding_s = 1e-12;

/// What of the turn before is paired with one bin, and the bin itself.
double paired_s(const plan::PlanSetup& p) {
    return (1 + 2 * p.platterBins) * p.sector_s() / p.binsPerSector;
}

} // namespace

TEST_CASE("Edges are paired in bins of at most 0.6 ms, widened by no less than the tolerances say",
          "[cut][bins]") {
    for (const auto rpm : {15.0, 100.0 / 3, 45.0, 90.0})
        for (const auto sectors : {64, 128, 256, 400, 800})
            for (const auto platter : {0.0, 0.0002, 0.001, 0.0013, 0.02})
                for (const auto preview_s : {0.0, 0.005}) {
                    cut::CutSettings s;
                    s.rpm = rpm;
                    s.sectors_per_turn = sectors;
                    s.speed_tolerance = platter;
                    s.preview_tolerance_s = preview_s;
                    const auto p = cut::planSetup(s, rate_hz);
                    INFO(rpm << " rpm, " << sectors << " sectors, platter " << platter << ", preview "
                             << preview_s);
                    const auto bin_s = p.sector_s() / p.binsPerSector;
                    CHECK(bin_s <= 0.6e-3 + rounding_s);
                    CHECK(p.binsPerSector <= 128);
                    CHECK(p.platterBins * bin_s >= platter * p.turn_s - rounding_s);
                    CHECK(p.previewBins * bin_s >= preview_s - rounding_s);
                    CHECK((p.platterBins - 1) * bin_s < platter * p.turn_s + 1 / rate_hz);
                    CHECK((p.previewBins - 1) * bin_s < preview_s);
                }
}

TEST_CASE("The bins are those that the tolerances hardly have to be rounded up to", "[cut][bins]") {
    for (const auto sectors : {128, 256, 400, 500, 800}) {
        cut::CutSettings s;
        s.sectors_per_turn = sectors;
        const auto p = cut::planSetup(s, rate_hz);
        INFO(sectors << " sectors, " << p.binsPerSector << " bins");
        CHECK(paired_s(p) <= 1.15 * 2 * s.speed_tolerance * s.turn_s());
    }
    const auto usual = cut::planSetup({}, rate_hz);
    CHECK(usual.binsPerSector
          == 19); // 12 are short enough, but 9 of them are paired, 5.3 ms; 11 of these, 4.1 ms
    CHECK(usual.platterBins == 5);
}
