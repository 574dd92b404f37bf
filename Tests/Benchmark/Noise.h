// SPDX-License-Identifier: GPL-3.0-or-later
// The program of the benchmarks at real time.
#pragma once

#include "Tests/Cut/TestPrograms.h"

#include <cmath>
#include <numbers>

namespace headland::test {

/// Two noises, dark as music is, that swell and fade: every sector asks for something else.
inline Program noise(double seconds, double rate_hz) {
    auto p = silence(seconds, rate_hz);
    Random random(3);
    double left = 0, right = 0;
    const auto memory = std::exp(-2 * std::numbers::pi * 75 / rate_hz);
    for (std::size_t i = 0; i < p.length(); ++i) {
        const auto gain = 1.2 * (1 + std::sin(2 * std::numbers::pi * 0.3 * static_cast<double>(i) / rate_hz));
        left = memory * left + 0.02 * random.between(-1, 1);
        right = memory * right + 0.02 * random.between(-1, 1);
        p.left[i] = static_cast<float>(gain * (left + 0.4 * right));
        p.right[i] = static_cast<float>(gain * (right + 0.4 * left));
    }
    return p;
}

} // namespace headland::test
