// SPDX-License-Identifier: GPL-3.0-or-later
// Random valid set-ups, each with a program of its own: what is promised of every one of them holds. A seed that fails is
// printed with its set-up. HEADLAND_SETUPS=5000 tries so many, HEADLAND_FIRST_SEED=… begins elsewhere.
#include "Tests/Support/InParallel.h"
#include "Tests/Support/LandPromise.h"
#include "Tests/Support/RandomMusic.h"
#include "Tests/Support/RandomSetup.h"

#include <catch2/catch.hpp>
#include <chrono>
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
    double rate_hz, seconds;
    test::Program program;
};

Trial trialOf(unsigned seed) {
    test::Random random(seed);
    constexpr double rates_hz[] = {44100, 44100, 44100, 48000, 96000};
    const auto rate_hz = rates_hz[static_cast<std::size_t>(random.unit() * 5)];
    const auto settings = test::randomSetup([&] { return random.unit(); }, rate_hz);
    // A few turns at least; a minute seldom.
    const auto seconds = std::max(3 * settings.turn_s(), 3 * std::pow(20.0, random.unit() * random.unit()));
    return {settings, rate_hz, seconds, test::randomMusic(random, seconds, rate_hz)};
}

struct Outcome {
    unsigned seed = 0;
    double lack_um = 0, cpu_s = 0, at_s = 0, program_s = 0;
    bool finite = true;
    std::string options;
};

double threadTime_s() {
    timespec t{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
    return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

Outcome outcomeOf(unsigned seed) {
    const auto trial = trialOf(seed);
    const auto start = threadTime_s();
    const auto promise = test::cutForPromise(trial.settings, trial.program);
    return {seed,
            promise.worstLack_um,
            threadTime_s() - start,
            promise.worst.time_s,
            trial.seconds,
            promise.allFinite,
            test::asOptions(trial.settings)};
}

} // namespace

TEST_CASE("Every valid set-up keeps the set land but for what was announced", "[setups]") {
    const auto count = fromEnvironment("HEADLAND_SETUPS", 500);
    const auto first = fromEnvironment("HEADLAND_FIRST_SEED", 1);
    std::vector<Outcome> outcomes(count);
    test::inParallel(count, [&](std::size_t i) { outcomes[i] = outcomeOf(first + static_cast<unsigned>(i)); });
    double sum=0,prog=0;
    for (auto&o:outcomes){sum+=o.cpu_s;prog+=o.program_s; if (o.cpu_s > .3) printf("%u %.2f s of %.1f  %s\n",o.seed,o.cpu_s,o.program_s,o.options.c_str());}
    printf("engine %.2f s program %.1f s\n",sum,prog);
    for (const auto& o : outcomes) {
        if (o.lack_um > test::landPromise_um || o.cpu_s > o.program_s / 2)
            printf("seed %u lack %.4f at %.3f s of %.1f cpu %.3f  %s\n", o.seed, o.lack_um, o.at_s, o.program_s, o.cpu_s, o.options.c_str());
        INFO("seed " << o.seed << " at " << o.at_s << " s of " << o.program_s << " s: " << o.options);
        CHECK(o.finite);
        CHECK(o.lack_um <= test::landPromise_um);
    }
}
