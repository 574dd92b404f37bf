// SPDX-License-Identifier: GPL-3.0-or-later
// Random valid set-ups, each with a program of its own: what is promised of every one of them holds, and in time. A seed
// that fails is printed with its set-up. HEADLAND_SETUPS=5000 tries so many, HEADLAND_FIRST_SEED=… begins elsewhere.
#include "Tests/Support/InParallel.h"
#include "Tests/Support/LandPromise.h"
#include "Tests/Support/RandomMusic.h"
#include "Tests/Support/RandomSetup.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <ctime>
#include <string>
#include <vector>

using namespace headland;

namespace {

unsigned fromEnvironment(const char* name, unsigned otherwise) {
    const auto* text = std::getenv(name);
    return text == nullptr ? otherwise : static_cast<unsigned>(std::strtoul(text, nullptr, 10));
}

struct Trial {
    cut::CutSettings settings;
    test::Program program;
};

Trial trialOf(unsigned seed) {
    test::Random random(seed);
    const auto rate_hz = random.unit() < 0.8 ? 44100.0 : random.unit() < 0.7 ? 48000.0 : 96000.0;
    const auto settings = test::randomSetup([&] { return random.unit(); }, rate_hz);
    // Two turns and a half at least, so that there is a turn before; 40 s seldom.
    const auto seconds = std::max(2.5 * settings.turn_s(), 2 * std::pow(20.0, random.unit() * random.unit()));
    return {settings, test::randomMusic(random, seconds, rate_hz)};
}

double threadTime_s() {
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

struct Outcome {
    double lack_um = 0, at_s = 0, leastRadius_mm = 0;
    bool allFinite = true;
    double needed_s = 0, lasts_s = 0; ///< time on one core, and of the cut
};

Outcome outcomeOf(const cut::CutSettings& settings, const test::Program& program) {
    const auto start_s = threadTime_s();
    const auto promise = test::cutForPromise(settings, program);
    return {promise.worstLack_um,     promise.worst.time_s,
            promise.leastRadius_mm,   promise.allFinite,
            threadTime_s() - start_s, static_cast<double>(promise.frames) * settings.sector_s()};
}

} // namespace

TEST_CASE("Every valid set-up keeps the set land but for what was announced, faster than it cuts",
          "[setups]") {
    const auto count = fromEnvironment("HEADLAND_SETUPS", 500);
    const auto first = fromEnvironment("HEADLAND_FIRST_SEED", 1);
    std::vector<Outcome> outcomes(count);
    test::inParallel(count, [&](std::size_t i) {
        const auto trial = trialOf(first + static_cast<unsigned>(i));
        outcomes[i] = outcomeOf(trial.settings, trial.program);
    });
    for (std::size_t i = 0; i < outcomes.size(); ++i) {
        const auto& o = outcomes[i];
        const auto seed = first + static_cast<unsigned>(i);
        INFO("seed " << seed << ", worst at " << o.at_s << " s: " << test::asOptions(trialOf(seed).settings));
        CHECK(o.lack_um <= test::landPromise_um);
        CHECK(o.allFinite);
        CHECK(o.leastRadius_mm > 0);
        CHECK(o.needed_s
              <= std::max(1.0, o.lasts_s)); // the machine may be busy with something else for a second
    }
}

TEST_CASE("Land holds between boundaries too where a fast spiral closed a turn before", "[setups]") {
    // No lag, no guard beyond a sector: between boundaries the spacing sagged by 0.15 µm here.
    cut::CutSettings s;
    s.pitch_min_um = 20;
    s.carriage_lag_s = 0;
    s.speed_tolerance = 0;
    s.reference_velocity_cm_s = 0.5;
    s.spiral_slew_um_per_rev_s = 96635;
    s.pitch_slew_um_per_rev_s = 5393;
    const auto silent = outcomeOf(s, test::silence(6));
    CHECK(silent.lack_um <= 0.01);
    auto strokes = test::silence(8);
    for (const auto at_s : {0.4, 1.9, 3.1, 5.5})
        test::addTone(strokes, at_s, 0.3, 50, 0.9);
    CHECK(outcomeOf(s, strokes).lack_um <= 0.01);
}

TEST_CASE("Land holds between boundaries too where the depth turns round within its lag", "[setups]") {
    for (unsigned seed = 1; seed <= 8; ++seed) { // 0.2 µm, where that was not planned for
        cut::CutSettings s;
        s.depth_max_um = 90;
        INFO("seed " << seed);
        CHECK(outcomeOf(s, test::randomProgram(seed, 15)).lack_um <= 0.02);
    }
}

TEST_CASE("The dearest set-ups run faster than they cut", "[setups]") {
    // The longest preview in sectors, the finest sectors at the greatest speed, drives so slow that all of it matters.
    cut::CutSettings s;
    s.applyFormat(1);
    s.rpm = 90;
    s.sectors_per_turn = 800;
    s.preview_s = 3.57;
    s.depth_slew_um_s = 10;
    s.pitch_slew_um_per_rev_s = 106;
    test::Random random(1);
    auto p = test::silence(5);
    test::program_detail::addStrokes(p, random, 5);
    const auto o = outcomeOf(s, p);
    CHECK(o.needed_s <= o.lasts_s);
    CHECK(o.lack_um <= test::landPromise_um);
    s.preview_s = 3.6;
    const auto problems = cut::validate(s, p.rate_hz);
    REQUIRE(problems.size() == 1);
    CHECK(problems.front()
          == "preview_s (3.6 s) is 4320 sectors long, more than the 4300 that are planned in time; shorten "
             "it or lower "
             "sectors_per_turn.");
}
