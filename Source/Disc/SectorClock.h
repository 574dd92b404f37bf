// SPDX-License-Identifier: GPL-3.0-or-later
// Where the stylus is in angle, counted in samples: the boundaries between sectors. Sector k spans the samples
// [boundary(k), boundary(k+1)); a turn is a whole number of sectors. Exact: nothing is summed up, so nothing drifts.
#pragma once

#include <cmath>
#include <cstdint>

namespace headland::disc {

class SectorClock {
public:
    SectorClock() = default;
    /// `turn_s` one revolution; speeds like 33⅓ rpm give whole samples a turn at every usual rate, and a turn within a
    /// billionth of itself of a whole number of samples is taken as whole.
    SectorClock(double sampleRate_hz, double turn_s, int sectorsPerTurn) noexcept : sectors(sectorsPerTurn) {
        const auto exact = sampleRate_hz * turn_s;
        turn_samples = std::abs(exact - std::round(exact)) < 1e-9 * exact ? std::round(exact) : exact;
    }

    /// Exact time at which sector `k` begins, in samples, counted from sector 0's.
    double exactBoundary(std::int64_t k) const noexcept {
        const auto turn = static_cast<double>(k / sectors);
        return (turn + static_cast<double>(k % sectors) / sectors) * turn_samples;
    }

    /// First sample at or after that time: the first of sector `k`.
    std::int64_t boundary(std::int64_t k) const noexcept {
        constexpr double rounding = 1e-6; // a boundary that falls on a sample stays on it
        return static_cast<std::int64_t>(std::ceil(exactBoundary(k) - rounding));
    }

    double turnSamples() const noexcept { return turn_samples; }
    int sectorsPerTurn() const noexcept { return sectors; }

private:
    double turn_samples = 1;
    int sectors = 1;
};

} // namespace headland::disc
