// SPDX-License-Identifier: GPL-3.0-or-later
// Round figures for axes. Any thread.
#pragma once

#include <cmath>

namespace headland::editor {

/// The least of 1, 1.5, 2, 3, 4, 6, 8 times a power of ten that is not below `value`; 1 for what is not above zero.
inline double roundAbove(double value) noexcept {
    if (!(value > 0))
        return 1;
    const auto power = std::pow(10, std::floor(std::log10(value)));
    for (const auto figure : {1.0, 1.5, 2.0, 3.0, 4.0, 6.0, 8.0})
        if (figure * power >= value)
            return figure * power;
    return 10 * power;
}

/// The distance of marks on an axis: 1, 2 or 5 times a power of ten, so that there are at most `most` of them.
inline double markStep(double length, int most) noexcept {
    const auto least = length / most;
    const auto power = std::pow(10, std::floor(std::log10(least)));
    for (const auto figure : {1.0, 2.0, 5.0})
        if (figure * power >= least)
            return figure * power;
    return 10 * power;
}

} // namespace headland::editor
