// SPDX-License-Identifier: GPL-3.0-or-later
// The rule that chooses a preview delay, on made-up tables: what the groove needs first, then what a longer delay buys.

#include "Console/DelayChoice.h"

#include "Tests/Console/Trials.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::console;
using namespace headland::test;

namespace {

constexpr double land_um = 12;

DelayChoice choose(const std::vector<DelayTrial>& trials) {
    return chooseDelay(trials, land_um);
}

} // namespace

TEST_CASE("A side that takes the same disc at every delay gets the shortest") {
    const auto choice = choose({keptTrial(0.5, 20), keptTrial(1, 20), keptTrial(4, 20)});
    CHECK(choice.best == 0);
    CHECK(choice.outcome == DelayOutcome::landKept);
    CHECK(choice.candidates.size() == 3);
    CHECK(choice.nextLonger == std::size_t(1));
}

TEST_CASE("The shortest without missing land, when longer ones buy little") {
    const auto choice = choose({shortTrial(0.25, 19, 100), shortTrial(0.5, 19.5, 5), keptTrial(0.75, 20),
                                keptTrial(1, 19.97), keptTrial(2, 19.8)});
    CHECK(choice.best == 2);
    CHECK(choice.outcome == DelayOutcome::landKept);
    CHECK(choice.candidates == std::vector<std::size_t>{2, 3, 4});
}

TEST_CASE("Half a turn more is taken when it saves more than 0.5 % of the disc, and not when it saves less") {
    CHECK(choose({keptTrial(1, 100), keptTrial(1.5, 99.4)}).best == 1);
    CHECK(choose({keptTrial(1, 100), keptTrial(1.5, 99.6)}).best == 0);
    // A plateau on the way does not hide what lies behind it, nor does a small gain justify a long way.
    CHECK(choose({keptTrial(1, 100), keptTrial(1.5, 100), keptTrial(2, 98.5)}).best == 2);
    CHECK(choose({keptTrial(1, 100), keptTrial(1.5, 99.9), keptTrial(4, 98)}).best == 0);
}

TEST_CASE("After the one chosen no longer one buys 0.5 % for each half turn, and no shorter one would do") {
    Random random(7);
    for (int round = 0; round < 500; ++round) {
        std::vector<DelayTrial> trials;
        for (double turns = 0.25; turns <= 4; turns += random.between(0.1, 1))
            trials.push_back(keptTrial(turns, 20 + random.between(-0.4, 0.4)));
        const auto best = choose(trials).best;
        const auto used_mm = trials[best].summary.used_mm;
        for (std::size_t i = 0; i < trials.size(); ++i) {
            const auto halfTurns = (trials[i].turns - trials[best].turns) / 0.5;
            const auto saved = (used_mm - trials[i].summary.used_mm) / used_mm;
            INFO("round " << round << ", best " << best << ", other " << i);
            if (i > best)
                CHECK(saved < 0.005 * halfTurns + 1e-12);
            else if (
                i
                < best) // what the chosen one saves against it is worth the way, to the accuracy of the price
                CHECK(-saved > 0.005 * -halfTurns * 0.95);
        }
    }
}

TEST_CASE("A side that can be cut beats one that cannot, one that keeps its land beats both, whatever disc "
          "they take") {
    CHECK(choose({longTrial(0.5, 10), shortTrial(1, 30, 3), longTrial(2, 10)}).best == 1);
    CHECK(choose({shortTrial(0.5, 10, 3), keptTrial(2, 30), shortTrial(4, 10, 3)}).best == 1);
    auto late = keptTrial(1, 10); // announced as short although no land went: still not kept
    flag(late, cut::Flag::previewShort);
    late.summary.shortfallGreatest = {8, 95, 141, true};
    CHECK_FALSE(late.keepsLand());
    CHECK(late.canBeCut());
    CHECK(choose({late, keptTrial(4, 30)}).best == 1);
}

TEST_CASE("Land missing at every delay alike: the lathe is the limit, and the shortest such delay will do") {
    const auto choice = choose(
        {shortTrial(0.5, 20, 90), shortTrial(1, 20, 40.3), shortTrial(2, 20, 40), shortTrial(4, 20, 40.1)});
    CHECK(choice.best == 1);
    CHECK(choice.outcome == DelayOutcome::latheLimits);
    CHECK(choice.candidates == std::vector<std::size_t>{1, 2, 3});
}

TEST_CASE("Land missing less and less up to the longest delay: a longer one may help") {
    const auto choice = choose({shortTrial(1, 20, 90), shortTrial(2, 20, 60), shortTrial(4, 20, 30)});
    CHECK(choice.best == 2);
    CHECK(choice.outcome == DelayOutcome::stillShort);
    CHECK_FALSE(choice.nextLonger);
}

TEST_CASE("Land missing that was never announced is the lathe's limit too") {
    auto trials = std::vector{shortTrial(1, 20, 69), shortTrial(2, 20, 69)};
    for (auto& trial : trials) { // more than the greatest pitch: the carriage is in time, but ends too early
        trial.summary.shortfallGreatest = {};
        trial.summary.flaggedSectors[cut::indexOf(cut::Flag::previewShort)] = 0;
    }
    const auto choice = choose(trials);
    CHECK(choice.best == 0);
    CHECK(choice.outcome == DelayOutcome::latheLimits);
    CHECK(trials[0].missingLand_um(land_um) == Approx(69));
}

TEST_CASE("A side too long at every delay: the disc is the limit, lifted at every delay: the depth") {
    CHECK(choose({longTrial(1, 90), longTrial(2, 80)}).outcome == DelayOutcome::discLimits);
    CHECK(choose({longTrial(1, 90), longTrial(2, 80)}).best == 1);
    auto lifted = keptTrial(1, 20);
    flag(lifted, cut::Flag::lifted);
    CHECK(choose({lifted}).outcome == DelayOutcome::stylusLifts);
}

TEST_CASE("Tables of one line, or of no disc used at all, have an answer") {
    const auto one = choose({shortTrial(1, 20, 40)});
    CHECK(one.best == 0);
    CHECK(one.outcome == DelayOutcome::latheLimits);
    CHECK_FALSE(one.nextLonger);
    CHECK(choose({keptTrial(1, 0), keptTrial(2, 0)}).best == 0);
    CHECK(choose({shortTrial(0.25, 20, 50), keptTrial(4, 25)}).best == 1); // only the longest keeps its land
}
