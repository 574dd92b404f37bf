// SPDX-License-Identifier: GPL-3.0-or-later
#include "Groove/RecordingCharacteristic.h"

#include <cmath>
#include <numbers>

namespace headland::groove {

namespace {

std::complex<double> laplace(double frequency_hz) {
    return {0.0, 2 * std::numbers::pi * frequency_hz};
}

std::complex<double> unscaled(std::complex<double> s) {
    return (1.0 + s * bassTime_s) * (1.0 + s * trebleTime_s) / (1.0 + s * middleTime_s);
}

} // namespace

std::complex<double> recordingCharacteristic(double frequency_hz) {
    return unscaled(laplace(frequency_hz)) / std::abs(unscaled(laplace(referenceFrequency_hz)));
}

std::complex<double> chainHighpass(double frequency_hz, double corner_hz) {
    const auto s = laplace(frequency_hz);
    const auto corner = 2 * std::numbers::pi * corner_hz;
    return s * s / (s * s + std::numbers::sqrt2 * corner * s + corner * corner);
}

double fullScaleVelocity_um_s(double referenceVelocity_cm_s, double alignment_dbfs, double discLevel_db) {
    constexpr double um_per_cm = 1e4;
    return referenceVelocity_cm_s * um_per_cm * std::pow(10.0, (discLevel_db - alignment_dbfs) / 20);
}

} // namespace headland::groove
