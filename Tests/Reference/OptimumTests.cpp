// SPDX-License-Identifier: GPL-3.0-or-later
// Disc used against the full-knowledge optimum that COIN-OR Clp finds, on real recorded music (Debian's package
// singularity-music). A few short pieces here, where the end of the program weighs more than on a side; the whole table
// is printed by `reference_tests "[planner-report]"`.
#include "Tests/Reference/OptimumRun.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::reference;

namespace {

std::string piece(const std::string& name) {
    return "/usr/share/games/singularity/music/" + name + ".ogg";
}

void requireLand(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& s) {
    const auto [first, last] = programRange(frames);
    for (auto i = first; i < last; ++i)
        if (!std::isnan(frames[i].landMin_um) && frames[i].shortfall_um == 0)
            REQUIRE(frames[i].landMin_um >= s.land_min_um - 0.5);
}

} // namespace

TEST_CASE("Recorded music uses little more disc than with full knowledge", "[reference][optimum]") {
    constexpr double level_db = -6, length_s = 80; // shorter, and the end of the program weighs too much
    std::vector<double> ratios[2];
    for (const auto* name : {"Aberrations", "Coherence", "Nebula"}) {
        const auto recording = decode(piece(name), 30, length_s);
        double optimum_um = 0;
        for (const auto turns : {1, 2}) {
            const auto settings = settingsFor(turns, level_db);
            const auto frames = cutRecording(settings, recording);
            requireLand(frames, settings);
            if (optimum_um == 0) { // the demand does not depend on the preview
                const auto optimum = solveOptimum(problemOf(frames, settings, coarse));
                REQUIRE(optimum.solved);
                optimum_um = optimum.used_um;
            }
            const auto ratio = used_um(frames) / optimum_um;
            INFO(name << ", " << turns << " turns of preview: ratio " << ratio);
            CHECK(ratio > 0.999); // less than the optimum would be a mistake in one of the two
            CHECK(ratio < (turns == 1 ? 1.05 : 1.03));
            ratios[turns - 1].push_back(ratio);
        }
    }
    for (const auto turns : {1, 2}) {
        auto& r = ratios[turns - 1];
        std::sort(r.begin(), r.end());
        CHECK(r[1] < (turns == 1 ? 1.03 : 1.015));
    }
}

TEST_CASE("The floor by itself spends more: the optimiser is what saves it", "[reference][optimum]") {
    auto settings = settingsFor(1, -6);
    const auto recording = decode(piece("Coherence"), 30, 40);
    const auto optimised_um = used_um(cutRecording(settings, recording));
    settings.pitch_optimiser = 0;
    CHECK(used_um(cutRecording(settings, recording)) > 1.05 * optimised_um);
}
