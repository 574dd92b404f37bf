// SPDX-License-Identifier: GPL-3.0-or-later
// The engine at real time, in blocks of 64 samples at 96 kHz and 256 sectors a turn: its share of one core, and the
// dearest single block against the time the block lasts. A block's cost is the least of several identical runs, because
// what the machine does in between is not the engine's. And the planner's share of a whole cut.
// Run by: cmake --build build/release --target benchmark
#include "Cut/CutEngine.h"
#include "Cut/PlanSetupOf.h"
#include "Plan/CutPlanner.h"
#include "Tests/Benchmark/Cost.h"
#include "Tests/Benchmark/Noise.h"
#include "Tests/Cut/Rehearse.h"
#include "Tests/Support/HeardSectors.h"
#include "Tests/Support/Median.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <vector>

using namespace headland;
using test::noise;
using test::threadTime_s;

namespace {

constexpr int blockSize = 64;

class LastFrame : public cut::FrameSink {
public:
    void frame(const cut::CutFrame& f) noexcept override { last = f; }
    cut::CutFrame last{};
};

/// Cost of every block of a whole side, lead-in and lead-out included, s.
std::vector<double> blockCosts_s(const cut::CutSettings& settings, const test::Program& p,
                                 const std::shared_ptr<const plan::Profile>& profile) {
    cut::CutEngine engine;
    engine.prepare(settings, p.rate_hz, {}, profile);
    engine.rehearsed();
    LastFrame sink;
    std::vector<double> costs;
    costs.reserve(p.length());
    const auto timed = [&](auto step) {
        const auto start = threadTime_s();
        const bool more = step();
        costs.push_back(threadTime_s() - start);
        return more;
    };
    while (timed([&] { return !engine.leadInSome(blockSize, sink); })) {
    }
    for (std::size_t i = 0; i + blockSize <= p.length(); i += blockSize)
        timed([&] {
            engine.process(&p.left[i], &p.right[i], blockSize, sink);
            return true;
        });
    while (timed([&] { return !engine.finishSome(blockSize, sink); })) {
    }
    CHECK(sink.last.state == cut::State::finishing);
    return costs;
}

std::vector<double> leastCosts_s(const cut::CutSettings& settings, const test::Program& p,
                                 const std::shared_ptr<const plan::Profile>& profile) {
    constexpr int runs = 5;
    auto least = blockCosts_s(settings, p, profile);
    for (int run = 1; run < runs; ++run) {
        const auto costs = blockCosts_s(settings, p, profile);
        REQUIRE(costs.size() == least.size());
        for (std::size_t i = 0; i < costs.size(); ++i)
            least[i] = std::min(least[i], costs[i]);
    }
    return least;
}

double plannerCost_s(const cut::CutSettings& s, double rate_hz,
                     const std::vector<plan::SectorExtremes>& bins) {
    const auto setup = cut::planSetup(s, rate_hz);
    const plan::PitchAim aim{true,           s.pitch_optimiser != 0,    2 * s.depth_basic_um + s.land_min_um,
                             s.pitch_max_um, s.pitch_slew_um_per_rev_s, s.pitch_slew_um_per_rev_s};
    plan::CutPlanner planner(setup);
    planner.start(aim.wish_um);
    const auto start = threadTime_s();
    const auto each = static_cast<std::size_t>(setup.binsPerSector);
    for (std::size_t i = 0; i < bins.size() / each; ++i) {
        planner.hear(std::span(bins).subspan(i * each, each));
        if (i >= static_cast<std::size_t>(setup.previewSectors))
            planner.plan(aim);
    }
    return threadTime_s() - start;
}

} // namespace

TEST_CASE("the engine at real time: share of a core, and the dearest block", "[engine]") {
    constexpr double rate_hz = 96000, length_s = 40;
    constexpr double greatestShare = 0.0125, greatestBlock = 0.125, budget_s = blockSize / rate_hz;
    const auto program = noise(length_s, rate_hz);
    std::printf("real time, 96 kHz, 256 sectors a turn, blocks of %d samples (%.0f us)\n", blockSize,
                budget_s * 1e6);
    for (const auto& [turns, isRehearsed] :
         {std::pair{1.0, false}, {2.0, false}, {4.0, false}, {1.0, true}, {4.0, true}}) {
        cut::CutSettings settings;
        settings.preview_s = turns * settings.turn_s();
        const auto profile = isRehearsed ? test::kept(test::rehearse(settings, program)) : nullptr;
        const auto costs = leastCosts_s(settings, program, profile);
        auto sum_s = 0.0;
        for (const auto cost : costs)
            sum_s += cost;
        const auto share = sum_s / (static_cast<double>(costs.size()) * budget_s);
        const auto dearest = *std::max_element(costs.begin(), costs.end()) / budget_s;
        std::printf("  %.0f turns of preview%s: %.2f %% of a core; the dearest block %.1f %% of its time\n",
                    turns, isRehearsed ? ", rehearsed" : "", 100 * share, 100 * dearest);
        CHECK(share <= greatestShare);
        CHECK(dearest <= greatestBlock);
    }
}

TEST_CASE("the planner's share of a cut", "[engine]") {
    const auto program = noise(120, 44100);
    for (const auto turns : {1.0, 2.0, 4.0}) {
        cut::CutSettings settings;
        settings.preview_s = turns * settings.turn_s();
        const auto bins =
            test::extremesOf(settings, program, cut::planSetup(settings, program.rate_hz).binsPerSector);
        std::vector<double> planner_s, engine_s;
        for (int round = 0; round < 5; ++round) {
            planner_s.push_back(plannerCost_s(settings, program.rate_hz, bins));
            const auto start = threadTime_s();
            test::cutAll(settings, program);
            engine_s.push_back(threadTime_s() - start);
        }
        const auto share = test::median(planner_s) / test::median(engine_s);
        std::printf(
            "planner at %.0f turns of preview: %.2f s of the engine's %.2f s for 20 minutes, %.0f %%\n",
            turns, 10 * test::median(planner_s), 10 * test::median(engine_s), 100 * share);
        CHECK(share < 1);
    }
}
