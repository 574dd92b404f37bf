// SPDX-License-Identifier: GPL-3.0-or-later
// Straight scales of a chart: from values to places on the drawing, and round numbers to write beside them. Any thread.
#pragma once

#include <vector>

namespace headland::console {

/// Maps `least`…`greatest` to `atLeast_px`…`atGreatest_px`; values beyond are held at the ends.
struct ChartScale {
    double least = 0;
    double greatest = 1;
    double atLeast_px = 0;
    double atGreatest_px = 1;

    /// Place of `value` on the drawing.
    double operator()(double value) const noexcept;
};

/// Round values (1, 2 or 5 times a power of ten apart) from `least` to `greatest`, at most `countMax` ≥ 2 of them.
std::vector<double> roundTicks(double least, double greatest, int countMax);

/// Places in time that read well as m:ss (1, 2, 5, 10, 15, 30 s, 1, 2, 5, 10, 15, 30 min … apart), from `least_s` to
/// `greatest_s`, at most `countMax` ≥ 2 of them.
std::vector<double> timeTicks(double least_s, double greatest_s, int countMax);

/// Places after the point that ticks this far apart need.
int decimalsFor(const std::vector<double>& ticks);

} // namespace headland::console
