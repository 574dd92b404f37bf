// SPDX-License-Identifier: GPL-3.0-or-later
// Short programs of kinds that ask for very different things of a planner: strokes, sweeps, bursts of noise, and
// something like music. Invented signals, the same on every machine.
#pragma once

#include "Tests/Cut/TestPrograms.h"
#include "Tests/Support/Random.h"

#include <cmath>
#include <numbers>

namespace headland::test {

namespace program_detail {

/// How one channel shares in a sound: mono, one side, out of phase or anything between.
inline double side(Random& random) {
    const auto kind = random.unit();
    return kind < 0.5 ? 1 : kind < 0.7 ? 0 : kind < 0.85 ? -1 : random.between(-1, 1);
}

inline void addStrokes(Program& p, Random& random, double seconds) {
    for (double t = random.between(0.2, 2); t < seconds; t += random.between(0.3, 4))
        addTone(p, t, random.between(0.05, 0.6), 30 * std::pow(8.0, random.unit()), random.between(0.05, 0.9),
                side(random), side(random));
}

inline void addSweep(Program& p, Random& random) {
    const auto from_hz = 20 * std::pow(400.0, random.unit()), to_hz = 20 * std::pow(400.0, random.unit());
    const auto amplitude = random.between(0.02, 0.6), left = side(random), right = side(random);
    const auto length = static_cast<double>(p.length());
    auto phase = 0.0;
    for (std::size_t i = 0; i < p.length(); ++i) {
        phase += 2 * std::numbers::pi / p.rate_hz
                 * (from_hz * std::pow(to_hz / from_hz, static_cast<double>(i) / length));
        p.left[i] += static_cast<float>(left * amplitude * std::sin(phase));
        p.right[i] += static_cast<float>(right * amplitude * std::sin(phase));
    }
}

inline void addBursts(Program& p, Random& random, double seconds) {
    for (double t = random.between(0, 1); t < seconds; t += random.between(0.1, 3)) {
        const auto corner_hz = 40 * std::pow(100.0, random.unit());
        const auto memory = std::exp(-2 * std::numbers::pi * corner_hz / p.rate_hz);
        const auto gain = random.between(0.1, 1) * (1 - memory) * 4;
        const auto first = static_cast<std::size_t>(t * p.rate_hz);
        const auto last =
            std::min(p.length(), static_cast<std::size_t>((t + random.between(0.02, 1)) * p.rate_hz));
        auto left = 0.0, right = 0.0;
        for (auto i = first; i < last; ++i) {
            left = memory * left + gain * random.between(-1, 1);
            right = memory * right + gain * random.between(-1, 1);
            p.left[i] += static_cast<float>(left);
            p.right[i] += static_cast<float>(right);
        }
    }
}

/// Notes over each other, the low ones louder, under a level that swells and fades.
inline void addNotes(Program& p, Random& random, double seconds) {
    const auto level = random.between(0.03, 0.3), swell_hz = random.between(0.02, 0.5);
    for (double t = 0; t < seconds; t += random.between(0.05, 0.5)) {
        const auto frequency = 40 * std::pow(100.0, random.unit());
        const auto swell = 0.55 + 0.45 * std::sin(2 * std::numbers::pi * swell_hz * t);
        addTone(p, t, random.between(0.1, 1.5), frequency, level * swell * std::pow(40 / frequency, 0.3),
                random.between(-0.3, 1), random.between(-0.3, 1));
    }
}

} // namespace program_detail

inline Program randomMusic(Random& random, double seconds, double rate_hz) {
    auto p = silence(seconds, rate_hz);
    const auto kind = random.unit();
    if (kind < 0.3)
        program_detail::addStrokes(p, random, seconds);
    else if (kind < 0.45)
        program_detail::addSweep(p, random);
    else if (kind < 0.65)
        program_detail::addBursts(p, random, seconds);
    else
        program_detail::addNotes(p, random, seconds);
    return p;
}

} // namespace headland::test
