// SPDX-License-Identifier: GPL-3.0-or-later
// The simulated axis against a slow simulation of the same differential equation in small steps.
#include "Lathe/Axis.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

using headland::lathe::Axis;

namespace {

constexpr double rate_hz = 48000;
constexpr std::size_t sector_samples = 480; // 10 ms

struct Curve {
    std::vector<double> axis, integral;
};

/// Runs the axis along boundary values, one line a sector, in blocks of `block` samples.
Curve runAxis(Axis& axis, const std::vector<double>& boundaries, double slew_um_s, std::size_t block) {
    Curve curve;
    for (std::size_t k = 0; k + 1 < boundaries.size(); ++k) {
        axis.follow({boundaries[k], (boundaries[k + 1] - boundaries[k]) / sector_samples}, slew_um_s);
        for (std::size_t done = 0; done < sector_samples;) {
            const auto count = std::min(block, sector_samples - done);
            std::vector<double> a(count), i(count);
            axis.run(a, i);
            curve.axis.insert(curve.axis.end(), a.begin(), a.end());
            curve.integral.insert(curve.integral.end(), i.begin(), i.end());
            done += count;
        }
    }
    return curve;
}

/// τ·q' = v − q with v following the command no faster than the slew; forty Euler steps a sample.
Curve simulate(const std::vector<double>& boundaries, double slew_um_s, double lag_s) {
    constexpr int steps = 40;
    constexpr double dt = 1 / rate_hz / steps;
    Curve curve;
    auto v = boundaries[0], q = boundaries[0], sum = 0.0;
    for (std::size_t n = 0; n < (boundaries.size() - 1) * sector_samples; ++n) {
        curve.axis.push_back(q);
        curve.integral.push_back(sum);
        for (int i = 0; i < steps; ++i) {
            const auto t = (static_cast<double>(n) + (i + 1.0) / steps) / sector_samples;
            const auto k = std::min(static_cast<std::size_t>(t), boundaries.size() - 2);
            const auto command =
                boundaries[k] + (boundaries[k + 1] - boundaries[k]) * (t - static_cast<double>(k));
            v += std::min(std::max(command - v, -slew_um_s * dt), slew_um_s * dt);
            const auto before = q;
            q += (v - q) * (lag_s > 0 ? dt / lag_s : 1.0);
            sum += (before + q) / 2 * dt;
        }
    }
    return curve;
}

const std::vector<double> zigzag{100, 104, 108, 106, 102, 102, 105, 109, 113, 117, 113, 109, 109, 109};

} // namespace

TEST_CASE("An axis follows a straight command with its lag as the differential equation says", "[lathe]") {
    for (const auto lag_s : {0.0, 0.01, 0.05}) {
        Axis axis({400, lag_s}, rate_hz, sector_samples);
        axis.start(zigzag[0]);
        const auto ours = runAxis(axis, zigzag, 400, 64);
        const auto slow = simulate(zigzag, 400, lag_s);
        INFO("lag " << lag_s);
        for (std::size_t n = 0; n < ours.axis.size(); ++n) {
            REQUIRE(ours.axis[n] == Approx(slow.axis[n]).margin(0.003));
            REQUIRE(ours.integral[n] == Approx(slow.integral[n]).margin(2e-4));
        }
    }
}

TEST_CASE("A command faster than the axis is caught up with at the axis' own slew", "[lathe]") {
    const std::vector<double> steep{100, 108, 116, 124, 132, 132, 132, 132, 132, 132, 132, 132, 132, 132};
    constexpr double slew_um_s = 400; // the command asks for 800
    Axis axis({slew_um_s, 0.02}, rate_hz, sector_samples);
    axis.start(steep[0]);
    const auto ours = runAxis(axis, steep, slew_um_s, 64);
    const auto slow = simulate(steep, slew_um_s, 0.02);
    for (std::size_t n = 0; n < ours.axis.size(); ++n) {
        REQUIRE(ours.axis[n] == Approx(slow.axis[n]).margin(0.01));
        REQUIRE(ours.integral[n] == Approx(slow.integral[n]).margin(1e-3));
        if (n > 0)
            REQUIRE(std::abs(ours.axis[n] - ours.axis[n - 1]) <= slew_um_s / rate_hz * (1 + 1e-6));
    }
    REQUIRE(ours.axis.back() == Approx(132).margin(1));
}

TEST_CASE("The axis is the same to the bit for every block size", "[lathe]") {
    Axis first({400, 0.03}, rate_hz, sector_samples);
    first.start(zigzag[0]);
    const auto whole = runAxis(first, zigzag, 400, sector_samples);
    for (const std::size_t block : {1, 7, 64, 479}) {
        Axis axis({400, 0.03}, rate_hz, sector_samples);
        axis.start(zigzag[0]);
        const auto pieces = runAxis(axis, zigzag, 400, block);
        REQUIRE(pieces.axis == whole.axis);
        REQUIRE(pieces.integral == whole.integral);
    }
}

TEST_CASE("Axis and integral read at any moment are those of the next sample", "[lathe]") {
    Axis axis({400, 0.03}, rate_hz, sector_samples);
    axis.start(100);
    axis.follow({100, 0.008}, 400);
    std::vector<double> a(100), i(100);
    axis.run(a, i);
    const auto next_um = axis.axis_um(), integral = axis.integral_um_s();
    std::vector<double> b(1), k(1);
    axis.run(b, k);
    REQUIRE(b[0] == next_um);
    REQUIRE(k[0] == integral);
}

TEST_CASE("A steep line that meets a slow one between two samples leaves the axis on the command",
          "[lathe]") {
    constexpr double fast_um_s = 64000, slow_um_s = 10,
                     meets = 0.6; // of a sample after the last one of the steep line
    const auto perSample_um = -fast_um_s / rate_hz, slowPerSample_um = slow_um_s / rate_hz;
    Axis axis({slow_um_s, 0}, rate_hz, sector_samples);
    axis.start(1000);
    axis.follow({1000, perSample_um}, fast_um_s);
    std::vector<double> a(sector_samples), i(sector_samples);
    axis.run(a, i);
    const auto joint_um = 1000 + perSample_um * (sector_samples - 1 + meets);
    const auto start_um = joint_um + slowPerSample_um * (1 - meets);
    axis.follow({start_um, slowPerSample_um}, slow_um_s);
    axis.run(a, i);
    CHECK(a[1] == Approx(start_um + slowPerSample_um).margin(1e-9)); // where the axis was, it does not jump
    CHECK(a.back() == Approx(start_um + slowPerSample_um * (sector_samples - 1)).margin(1e-9));
}
