// SPDX-License-Identifier: GPL-3.0-or-later
// Frequency responses measured from impulse responses: the Fourier sum at one frequency, and the points at which the
// tests look. Frequencies in Hz.
#pragma once

#include <cmath>
#include <complex>
#include <numbers>
#include <span>
#include <vector>

namespace headland::test {

/// Fourier sum of an impulse response at one frequency; sample 0 is the impulse's instant.
inline std::complex<double> responseAt(std::span<const double> impulseResponse, double frequency_hz,
                                       double sampleRate_hz) {
    const auto turn = std::polar(1.0, -2 * std::numbers::pi * frequency_hz / sampleRate_hz);
    std::complex<double> sum = 0, phase = 1;
    for (const auto value : impulseResponse) {
        sum += value * phase;
        phase *= turn;
    }
    return sum;
}

inline double decibels(double ratio) {
    return 20 * std::log10(std::abs(ratio));
}

/// 20 Hz to 20 kHz in 60 equal ratios, both ends and 1 kHz among them.
inline std::vector<double> audibleFrequencies_hz() {
    constexpr int steps = 60;
    std::vector<double> points{1000.0};
    for (int i = 0; i <= steps; ++i)
        points.push_back(20 * std::pow(1000.0, static_cast<double>(i) / steps));
    return points;
}

} // namespace headland::test
