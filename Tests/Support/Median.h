// SPDX-License-Identifier: GPL-3.0-or-later
// The middle one of some figures.
#pragma once

#include <algorithm>
#include <vector>

namespace headland::test {

/// The upper of both middle ones when their number is even; there must be one.
inline double median(std::vector<double> values) {
    std::sort(values.begin(), values.end());
    return values[values.size() / 2];
}

} // namespace headland::test
