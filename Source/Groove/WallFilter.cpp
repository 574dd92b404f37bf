// SPDX-License-Identifier: GPL-3.0-or-later
#include "Groove/WallFilter.h"

#include "Groove/RecordingCharacteristic.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <numbers>

namespace headland::groove {

namespace {

constexpr double pi = std::numbers::pi;

/// Response of the displacement filter with gain 1.
std::complex<double> matchedResponse(const WallFilterDesign& d, double frequency_hz, double sampleRate_hz) {
    const auto delay = std::exp(std::complex<double>(0, -2 * pi * frequency_hz / sampleRate_hz));
    return (1.0 - delay) * (1.0 - d.zeros[0] * delay) * (1.0 - d.zeros[1] * delay)
           / ((1.0 + d.highpass[0] * delay + d.highpass[1] * delay * delay) * (1.0 - d.middlePole * delay));
}

/// Analogue displacement for unit full-scale velocity, s.
double analogueDisplacement(double frequency_hz, double highpass_hz) {
    return std::abs(recordingCharacteristic(frequency_hz) * chainHighpass(frequency_hz, highpass_hz))
           / (2 * pi * frequency_hz);
}

void mapPolesAndZeros(WallFilterDesign& d, double sampleRate_hz, double highpass_hz) {
    const auto mapped = [sampleRate_hz](double time_s) { return std::exp(-1.0 / (time_s * sampleRate_hz)); };
    d.zeros = {mapped(bassTime_s), mapped(trebleTime_s)};
    d.middlePole = mapped(middleTime_s);
    const auto angle = 2 * pi * highpass_hz / sampleRate_hz / std::numbers::sqrt2; // Butterworth: 45 degrees
    d.highpass = {-2 * std::exp(-angle) * std::cos(angle), std::exp(-2 * angle)};
}

/// Magnitude of a symmetric filter at angle `w` (radians a sample).
double symmetricResponse(const HalfTaps& taps, double w) {
    auto sum = taps[0];
    for (int m = 1; m < halfTaps; ++m)
        sum += 2 * taps[static_cast<std::size_t>(m)] * std::cos(w * m);
    return sum;
}

/// Gaussian elimination without pivoting: the normal equations are positive definite.
HalfTaps solve(std::array<std::array<double, halfTaps + 1>, halfTaps>& rows) {
    for (std::size_t i = 0; i < rows.size(); ++i)
        for (std::size_t r = 0; r < rows.size(); ++r) {
            if (r == i)
                continue;
            const auto factor = rows[r][i] / rows[i][i];
            for (std::size_t c = i; c <= halfTaps; ++c)
                rows[r][c] -= factor * rows[i][c];
        }
    HalfTaps taps{};
    for (std::size_t i = 0; i < rows.size(); ++i)
        taps[i] = rows[i][halfTaps] / rows[i][i];
    return taps;
}

/// Symmetric filter that turns the `order`-th difference into the `order`-th derivative: least squares of the relative
/// error, weighted to the audible band; what lies above it only has to stay sane.
HalfTaps fitDerivative(double sampleRate_hz, int order) {
    constexpr int points = 400;
    constexpr double bandEdge_hz = 20500, trebleEdge_hz = 15000;
    std::array<std::array<double, halfTaps + 1>, halfTaps> rows{};
    for (int i = 1; i < points; ++i) {
        const auto w = pi * i / points;
        const auto frequency_hz = w * sampleRate_hz / (2 * pi);
        const auto weight = frequency_hz > bandEdge_hz ? 0.002 : frequency_hz > trebleEdge_hz ? 4.0 : 1.0;
        const auto wanted = std::pow(w * sampleRate_hz / (2 * std::sin(w / 2)), order);
        HalfTaps basis{};
        for (std::size_t m = 0; m < basis.size(); ++m)
            basis[m] = (m == 0 ? 1.0 : 2 * std::cos(w * static_cast<double>(m))) / wanted;
        for (std::size_t r = 0; r < rows.size(); ++r) {
            for (std::size_t c = 0; c < basis.size(); ++c)
                rows[r][c] += weight * basis[r] * basis[c];
            rows[r][halfTaps] += weight * basis[r];
        }
    }
    auto taps = solve(rows);
    // Slow movements are held exactly: the filter's gain at rest is the derivative's own.
    const auto correction = std::pow(sampleRate_hz, order) / symmetricResponse(taps, 0);
    for (auto& tap : taps)
        tap *= correction;
    return taps;
}

} // namespace

WallFilterDesign designWallFilter(double sampleRate_hz, double highpass_hz, double fullScaleVelocity_um_s) {
    WallFilterDesign d;
    mapPolesAndZeros(d, sampleRate_hz, highpass_hz);
    d.gain = fullScaleVelocity_um_s * analogueDisplacement(referenceFrequency_hz, highpass_hz)
             / std::abs(matchedResponse(d, referenceFrequency_hz, sampleRate_hz));
    d.velocity = fitDerivative(sampleRate_hz, 1);
    d.acceleration = fitDerivative(sampleRate_hz, 2);
    return d;
}

struct DisplacementFilter::Coefficients {
    double gain, gain1, gain2; ///< numerator of the high-pass pair: (1 - z⁻¹)(1 - zero·z⁻¹)
    double a1, a2;
    double trebleZero, pole;
};

inline double DisplacementFilter::step(Channel& c, const Coefficients& k, double x) noexcept {
    const auto y = k.gain * x + c.h1;
    c.h1 = k.gain1 * x - k.a1 * y + c.h2;
    c.h2 = k.gain2 * x - k.a2 * y;
    const auto out = y + c.m1;
    c.m1 = k.pole * out - k.trebleZero * y;
    return out;
}

void DisplacementFilter::process(std::span<const float> left, std::span<const float> right,
                                 std::span<double> leftOut_um, std::span<double> rightOut_um) noexcept {
    assert(left.size() == right.size() && left.size() == leftOut_um.size()
           && left.size() == rightOut_um.size());
    const Coefficients k{d.gain,
                         -d.gain * (1 + d.zeros[0]),
                         d.gain * d.zeros[0],
                         d.highpass[0],
                         d.highpass[1],
                         d.zeros[1],
                         d.middlePole};
    auto cl = l;
    auto cr = r;
    for (std::size_t i = 0; i < left.size(); ++i) {
        leftOut_um[i] = step(cl, k, left[i]);
        rightOut_um[i] = step(cr, k, right[i]);
    }
    l = cl;
    r = cr;
}

void DisplacementFilter::flushResidue() noexcept {
    constexpr double meaningless_um = 1e-30;
    for (auto* state : {&l.h1, &l.h2, &l.m1, &r.h1, &r.h2, &r.m1})
        if (std::abs(*state) < meaningless_um)
            *state = 0;
}

/// out[i] = taps around centre[i]; of a fixed number, so that the compiler takes several samples at once.
static void filterSymmetric(const HalfTaps& taps, const double* centre, std::span<double> out) noexcept {
    const auto count = static_cast<std::ptrdiff_t>(out.size());
    for (std::ptrdiff_t i = 0; i < count; ++i) {
        auto sum = taps[0] * centre[i];
        for (std::ptrdiff_t m = 1; m < halfTaps; ++m)
            sum += taps[static_cast<std::size_t>(m)] * (centre[i + m] + centre[i - m]);
        out[static_cast<std::size_t>(i)] = sum;
    }
}

void MotionFilter::process(std::span<const double> displacement_um, std::span<double> velocity_um_s,
                           std::span<double> acceleration_um_s2) noexcept {
    const auto count = displacement_um.size();
    assert(count <= maxBlock && velocity_um_s.size() == count && acceleration_um_s2.size() == count);
    std::copy(displacement_um.begin(), displacement_um.end(), past_um.begin() + history);
    // Differences of neighbours, and of those; then each symmetric filter around the instant halfTaps back.
    std::array<double, history + maxBlock> first, second;
    for (std::size_t i = 1; i < history + count; ++i)
        first[i] = past_um[i] - past_um[i - 1];
    for (std::size_t i = 1; i + 1 < history + count; ++i)
        second[i] = first[i + 1] - first[i];
    filterSymmetric(d.velocity, first.data() + halfTaps + 1, velocity_um_s);
    filterSymmetric(d.acceleration, second.data() + halfTaps, acceleration_um_s2);
    std::copy(past_um.begin() + static_cast<std::ptrdiff_t>(count),
              past_um.begin() + static_cast<std::ptrdiff_t>(count) + history, past_um.begin());
}

} // namespace headland::groove
