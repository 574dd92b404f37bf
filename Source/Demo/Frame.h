// SPDX-License-Identifier: GPL-3.0-or-later
// What the instruments of the demo add to in one sample, and the few sums they share.
// Full scale = 1. Pure functions, any thread.
#pragma once

#include <algorithm>
#include <cmath>
#include <random>

namespace headland::demo {

inline constexpr double pi = 3.14159265358979323846;

/// One sample of the mix: both channels, and what goes into the hall.
struct Frame {
    double left = 0, right = 0, send = 0;
};

inline double gainOf(double level_db) {
    return std::pow(10.0, level_db / 20.0);
}

/// Rises from 0 to 1 as x goes from 0 to 1, level at both ends.
inline double smooth(double x) {
    const double t = std::clamp(x, 0.0, 1.0);
    return t * t * (3.0 - 2.0 * t);
}

/// A number in [-1, 1) from the top bits of the generator: the standard distributions differ between libraries.
inline double spread(std::mt19937& chance) {
    return static_cast<double>(chance() >> 8) / 8388608.0 - 1.0;
}

} // namespace headland::demo
