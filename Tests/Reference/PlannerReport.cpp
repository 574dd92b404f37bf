// SPDX-License-Identifier: GPL-3.0-or-later
// The whole comparison with the full-knowledge optimum, printed: every piece of two Debian packages of recorded music
// (singularity-music, asc-music) at three levels and three previews, and what pairing by sectors and the guard cost.
// Not among the tests, for its length (tens of minutes on two cores); the limits are asserted all the same.
// Run by: build/release/tests/reference_tests "[planner-report]" or "[guard-report]"
#include "Plan/CutPlanner.h"
#include "Tests/Reference/OptimumRun.h"
#include "Tests/Support/HeardSectors.h"
#include "Tests/Support/InParallel.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdio>

using namespace headland;
using namespace headland::reference;

namespace {

constexpr double start_s = 30, length_s = 120;
constexpr std::array levels_db{0.0, -3.0, -6.0};
constexpr std::array previews_turns{1.0, 2.0, 3.0};

std::string nameOf(const std::string& file) {
    return file.substr(file.rfind('/') + 1);
}

/// One piece at one level.
struct Row {
    std::string name;
    double level_db = 0;
    bool longEnough = false, solved = false;
    double optimum_um = 0, mean_um = 0;
    std::array<double, previews_turns.size()> ratio{};
    double landLeast_um =
        1e9; ///< where neither the flag `limit` nor a shortfall said that it could not be kept
    std::array<int, 3> shortSectors{}; ///< sectors that announce a shortfall, by preview
    int limitedSectors = 0;            ///< sectors whose demand is beyond the greatest pitch or depth
};

Row measure(const std::string& file, double level_db) {
    Row row{nameOf(file), level_db};
    const auto recording = decode(file, start_s, length_s);
    row.longEnough =
        recording.samples.size() >= static_cast<std::size_t>(2 * length_s * recording.rate_hz) - 2;
    if (!row.longEnough)
        return row;
    for (std::size_t p = 0; p < previews_turns.size(); ++p) {
        const auto settings = settingsFor(previews_turns[p], level_db);
        const auto frames = cutRecording(settings, recording);
        if (p == 0) { // the demand does not depend on the preview
            const auto optimum = solveOptimum(problemOf(frames, settings, coarse));
            row.solved = optimum.solved;
            row.optimum_um = optimum.used_um;
            const auto [first, last] = programRange(frames);
            row.mean_um = optimum.used_um * settings.sectors_per_turn / static_cast<double>(last - first);
            row.limitedSectors = static_cast<int>(std::count_if(
                frames.begin(), frames.end(), [](const auto& f) { return f.has(cut::Flag::limit); }));
        }
        row.ratio[p] = used_um(frames) / row.optimum_um;
        for (const auto& f : frames) {
            row.shortSectors[p] += f.shortfall_um > 0.5;
            if (f.state == cut::State::program && !std::isnan(f.landMin_um) && f.shortfall_um == 0
                && !f.has(cut::Flag::limit))
                row.landLeast_um = std::min(row.landLeast_um, f.landMin_um);
        }
    }
    return row;
}

void print(const Row& r) {
    if (!r.solved)
        std::printf("%-28s %4.0f   no controller could cut it\n", r.name.c_str(), r.level_db);
    else
        std::printf("%-28s %4.0f %9.1f %7.1f   %7.4f %7.4f %7.4f   %6.2f   %4d %4d %4d   %4d\n",
                    r.name.c_str(), r.level_db, r.optimum_um, r.mean_um, r.ratio[0], r.ratio[1], r.ratio[2],
                    r.landLeast_um, r.shortSectors[0], r.shortSectors[1], r.shortSectors[2],
                    r.limitedSectors);
    std::fflush(stdout);
}

} // namespace

TEST_CASE("Planner report: disc used over the optimum, piece by piece", "[.][planner-report]") {
    const auto files = recordedPieces();
    REQUIRE(files.size() >= 6);
    std::printf("%-28s %4s %9s %7s   %7s %7s %7s   %6s   %14s   %4s\n", "piece (120 s from 0:30)", "dB",
                "optimum", "mean", "1 turn", "2 turns", "3 turns", "land", "short sectors", "limit");
    std::vector<Row> rows(files.size() * levels_db.size());
    test::inParallel(rows.size(), [&](std::size_t i) {
        rows[i] = measure(files[i / levels_db.size()], levels_db[i % levels_db.size()]);
        if (rows[i].longEnough)
            print(rows[i]);
    });
    constexpr std::array medianMost{1.03, 1.015, 1.01}, eachMost{1.05, 1.03, 1.02};
    for (std::size_t p = 0; p < previews_turns.size(); ++p) {
        std::vector<double> ratios;
        for (const auto& row : rows)
            if (row.solved)
                ratios.push_back(row.ratio[p]);
        REQUIRE(ratios.size() >= 6);
        std::sort(ratios.begin(), ratios.end());
        const auto median = ratios[ratios.size() / 2];
        std::printf("%.0f turns of preview: median %.4f, greatest %.4f of %zu\n", previews_turns[p], median,
                    ratios.back(), ratios.size());
        CHECK(ratios.front() > 0.999); // less than the optimum would be a mistake in one of the two
        CHECK(median <= medianMost[p]);
        CHECK(ratios.back() <= eachMost[p]);
    }
    for (const auto& row : rows)
        if (row.solved) {
            INFO(row.name << " at " << row.level_db << " dB");
            CHECK(row.landLeast_um >= settingsFor(1, 0).land_min_um - 0.5);
        }
}

namespace {

/// How finely demand is paired, and what it is widened by.
struct Pairing {
    const char* name;
    int sectorsPerTurn, coarse, guardSectors;
};

/// 6.8 ms is the default guard, two sectors or three of 800; none is what no real lathe could dare.
constexpr std::array pairings{Pairing{"256, guard 1 (default)", 256, 4, 1},
                              Pairing{"256, no guard", 256, 4, 0}, Pairing{"800, guard 3", 800, 10, 3},
                              Pairing{"800, no guard", 800, 10, 0}};

/// Mean pitch of the full-knowledge optimum, µm, from rest in silence; 0 when there is none.
double optimumMean_um(const Recording& recording, cut::CutSettings s, const Pairing& pairing) {
    s.sectors_per_turn = pairing.sectorsPerTurn;
    auto setup = test::planSetupOf(s);
    setup.guardSectors = pairing.guardSectors;
    test::Program p{recording.rate_hz, {}, {}};
    p.left.assign(static_cast<std::size_t>(2 * s.turn_s() * p.rate_hz), 0); // silence to begin from
    p.right = p.left;
    for (std::size_t i = 0; i < recording.samples.size(); i += 2) {
        p.left.push_back(recording.samples[i]);
        p.right.push_back(recording.samples[i + 1]);
    }
    const auto heard = test::extremesOf(s, p);
    plan::CutPlanner planner(setup);
    const auto resting_um = 2 * s.depth_basic_um + s.land_min_um;
    planner.start(resting_um);
    const plan::PitchAim aim{
        true, false, resting_um, s.pitch_max_um, s.pitch_slew_um_per_rev_s, s.pitch_slew_um_per_rev_s};
    OptimumProblem problem{s.turn_s(),
                           s.sectors_per_turn,
                           pairing.coarse,
                           {},
                           {},
                           resting_um,
                           resting_um,
                           s.pitch_min_um,
                           s.pitch_max_um,
                           s.pitch_slew_um_per_rev_s,
                           s.carriage_lag_s};
    for (int i = -s.sectors_per_turn; i <= 0; ++i)
        problem.history_um.push_back(resting_um * i / s.sectors_per_turn);
    for (std::size_t i = 0; i < heard.size(); ++i) {
        planner.hear(heard[i]);
        if (i < static_cast<std::size_t>(setup.previewSectors))
            continue;
        const auto demand_um = planner.plan(aim).demand_um;
        if (i - static_cast<std::size_t>(setup.previewSectors)
            >= static_cast<std::size_t>(s.sectors_per_turn))
            problem.demand_um.push_back(std::min(demand_um, s.pitch_max_um - nearlyGreatest_um));
    }
    const auto optimum = solveOptimum(problem);
    return optimum.solved
               ? optimum.used_um * s.sectors_per_turn / static_cast<double>(problem.demand_um.size())
               : 0;
}

} // namespace

TEST_CASE("Guard report: what pairing by sectors and the guard cost the optimum", "[.][guard-report]") {
    auto files = recordedPieces();
    REQUIRE(files.size() >= 6);
    std::vector<std::array<double, pairings.size()>> means_um(files.size());
    test::inParallel(files.size() * pairings.size(), [&](std::size_t i) {
        const auto recording = decode(files[i / pairings.size()], start_s, 60);
        if (recording.samples.size() >= static_cast<std::size_t>(100 * recording.rate_hz))
            means_um[i / pairings.size()][i % pairings.size()] =
                optimumMean_um(recording, settingsFor(1, -6), pairings[i % pairings.size()]);
    });
    std::printf("mean pitch of the optimum, um; 60 s from 0:30 at -6 dB\n%-28s", "sectors a turn");
    for (const auto& pairing : pairings)
        std::printf(" %22s", pairing.name);
    std::array<std::vector<double>, pairings.size()> costs;
    for (std::size_t f = 0; f < files.size(); ++f) {
        if (means_um[f].back() == 0)
            continue;
        std::printf("\n%-28s", nameOf(files[f]).c_str());
        for (std::size_t p = 0; p < pairings.size(); ++p) {
            const auto cost = means_um[f][p] / means_um[f].back();
            std::printf(" %12.1f (%+5.1f %%) ", means_um[f][p], 100 * (cost - 1));
            costs[p].push_back(cost);
            CHECK(cost > 0.99); // what asks for less cannot take more
        }
    }
    std::printf("\n%-28s", "median");
    REQUIRE(costs[0].size() >= 6);
    for (auto& cost : costs) {
        std::sort(cost.begin(), cost.end());
        std::printf(" %12s (%+5.1f %%) ", "", 100 * (cost[cost.size() / 2] - 1));
    }
    std::printf("\n");
}
