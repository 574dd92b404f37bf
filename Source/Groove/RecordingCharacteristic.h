// SPDX-License-Identifier: GPL-3.0-or-later
// From program to the velocity of one groove wall, as the analogue formulas: the recording characteristic of
// IEC 60098 / RIAA and the high-pass of the cutting chain. The digital filters in WallFilter are fitted to these.
// Frequencies in Hz, times in s. Pure functions; any thread.
#pragma once

#include <complex>

namespace headland::groove {

inline constexpr double bassTime_s = 3180e-6;           ///< T1, IEC 60098 / RIAA
inline constexpr double middleTime_s = 318e-6;          ///< T2, IEC 60098 / RIAA
inline constexpr double trebleTime_s = 75e-6;           ///< T3, IEC 60098 / RIAA
inline constexpr double referenceFrequency_hz = 1000.0; ///< where the characteristic is 0 dB

/// Recording characteristic (1+sT1)(1+sT3)/(1+sT2) at a frequency, scaled to magnitude 1 at 1 kHz.
std::complex<double> recordingCharacteristic(double frequency_hz);

/// Second-order Butterworth high-pass with its -3 dB corner at `corner_hz`.
std::complex<double> chainHighpass(double frequency_hz, double corner_hz);

/// Peak wall velocity in µm/s for a full-scale (±1) 1 kHz sine.
/// `referenceVelocity_cm_s` is the peak velocity of one wall for a 1 kHz sine peaking at `alignment_dbfs`;
/// `discLevel_db` is the trim the side is cut at.
double fullScaleVelocity_um_s(double referenceVelocity_cm_s, double alignment_dbfs, double discLevel_db);

} // namespace headland::groove
