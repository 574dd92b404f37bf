// SPDX-License-Identifier: GPL-3.0-or-later
// Program in, displacement of both groove walls out, and from that their velocity and acceleration.
// Displacement: poles and zeros of the analogue formula mapped by z = exp(sT) (matched), two channels in step.
// Velocity and acceleration: first and second difference of the displacement, each followed by a short symmetric
// filter fitted to the analogue curve, so that all three are within 0.1 dB of it from 20 Hz to 20 kHz at every rate
// from 44.1 kHz up. µm, µm/s, µm/s². Nothing is allocated; audio thread.
#pragma once

#include <array>
#include <span>

namespace headland::groove {

/// A symmetric filter, half of it: gain of the middle tap, then of each pair around it.
inline constexpr int halfTaps = 7;
using HalfTaps = std::array<double, halfTaps>;

/// Coefficients for one sample rate; made once in prepare.
struct WallFilterDesign {
    double gain = 0;                  ///< µm of displacement per full scale, as the first coefficient
    std::array<double, 2> zeros{};    ///< matched zeros of T1 and T3 (the third zero is at z = 1)
    double middlePole = 0;            ///< matched pole of T2
    std::array<double, 2> highpass{}; ///< a1, a2 of the high-pass pole pair
    HalfTaps velocity{};              ///< after the first difference, 1/s
    HalfTaps acceleration{};          ///< after the second difference, 1/s²
};

/// Designs the filters. `fullScaleVelocity_um_s` as from fullScaleVelocity_um_s().
/// Sample rate 44100 … 192000 Hz, high-pass 2 … 80 Hz.
WallFilterDesign designWallFilter(double sampleRate_hz, double highpass_hz, double fullScaleVelocity_um_s);

/// Wall displacement of both channels.
class DisplacementFilter {
public:
    explicit DisplacementFilter(const WallFilterDesign& design) noexcept : d(design) {}

    /// Displacement along each wall's normal, µm, for the next samples; all four spans of one length.
    void process(std::span<const float> left, std::span<const float> right, std::span<double> leftOut_um,
                 std::span<double> rightOut_um) noexcept;

    /// Clears what has decayed below any meaning, so that long silence does not slow the processor down.
    /// To be called at fixed sample counts only, or results would depend on the block size.
    void flushResidue() noexcept;

private:
    struct Channel {
        double h1 = 0, h2 = 0; ///< high-pass pair with the zeros at z = 1 and T1
        double m1 = 0;         ///< T2 pole with the zero of T3
    };
    struct Coefficients;
    static double step(Channel& c, const Coefficients& k, double x) noexcept;

    WallFilterDesign d;
    Channel l, r;
};

/// Velocity and acceleration of one wall from its displacement. The results are of one instant,
/// `latencySamples` (velocity: half a sample less) before the newest displacement.
class MotionFilter {
public:
    explicit MotionFilter(const WallFilterDesign& design) noexcept : d(design) {}

    static constexpr int latencySamples = halfTaps;
    static constexpr int maxBlock = 512;

    /// `displacement_um` at most maxBlock long; the others as long.
    void process(std::span<const double> displacement_um, std::span<double> velocity_um_s,
                 std::span<double> acceleration_um_s2) noexcept;

private:
    static constexpr int history = 2 * halfTaps;
    WallFilterDesign d;
    std::array<double, history + maxBlock> past_um{};
};

} // namespace headland::groove
