// SPDX-License-Identifier: GPL-3.0-or-later
// The digital filters against the analogue formulas, from their impulse responses; their timing; that nothing depends
// on blocks; that silence comes to rest.
#include "Groove/WallFilter.h"

#include "Groove/RecordingCharacteristic.h"
#include "Tests/Groove/Response.h"
#include "Tests/Support/Random.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>

using namespace headland::groove;
using namespace headland::test;

namespace {

constexpr double pi = std::numbers::pi;

/// What came out of the filters, sample for sample with what went in.
struct Motion {
    std::vector<double> displacement_um, velocity_um_s, acceleration_um_s2;
};

/// Runs one channel (the other silent) through both filters in blocks of `block` samples.
Motion run(const WallFilterDesign& design, const std::vector<float>& program, std::size_t block = 512) {
    const auto size = program.size();
    const std::vector<float> silence(size, 0.0f);
    std::vector<double> otherWall_um(size);
    Motion m{std::vector<double>(size), std::vector<double>(size), std::vector<double>(size)};
    DisplacementFilter displacement(design);
    MotionFilter motion(design);
    for (std::size_t at = 0; at < size; at += block) {
        const auto piece = [&](auto& all) { return std::span(all).subspan(at, std::min(block, size - at)); };
        displacement.process(piece(program), piece(silence), piece(m.displacement_um), piece(otherWall_um));
        motion.process(piece(m.displacement_um), piece(m.velocity_um_s), piece(m.acceleration_um_s2));
    }
    return m;
}

/// Response to a full-scale impulse at sample 0, long enough for a high-pass of 12 Hz to die away (e⁻³²).
Motion impulseResponse(const WallFilterDesign& design, double sampleRate_hz, double length_s = 0.6) {
    std::vector<float> impulse(static_cast<std::size_t>(sampleRate_hz * length_s), 0.0f);
    impulse[0] = 1.0f;
    return run(design, impulse);
}

std::vector<float> sine(double frequency_hz, double sampleRate_hz, double length_s, double level_dbfs) {
    std::vector<float> program(static_cast<std::size_t>(sampleRate_hz * length_s));
    for (std::size_t i = 0; i < program.size(); ++i)
        program[i] =
            static_cast<float>(std::pow(10.0, level_dbfs / 20)
                               * std::sin(2 * pi * frequency_hz * static_cast<double>(i) / sampleRate_hz));
    return program;
}

std::vector<float> noise(std::size_t length, unsigned seed) {
    Random random(seed);
    std::vector<float> program(length);
    for (auto& sample : program)
        sample = static_cast<float>(random.between(-1, 1));
    return program;
}

/// Greatest magnitude in the last second.
double settledPeak(const std::vector<double>& values, double sampleRate_hz) {
    auto peak = 0.0;
    for (auto i = values.size() - static_cast<std::size_t>(sampleRate_hz); i < values.size(); ++i)
        peak = std::max(peak, std::abs(values[i]));
    return peak;
}

} // namespace

TEST_CASE("displacement, velocity and acceleration follow the analogue curve within 0.1 dB", "[walls]") {
    // The target of the groove model, 20 Hz to 20 kHz at every rate; against the closed form of Hrec·Hhp.
    const auto rate_hz = GENERATE(44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0);
    constexpr double highpass_hz = 12, fullScale_um_s = 50000;
    const auto m = impulseResponse(designWallFilter(rate_hz, highpass_hz, fullScale_um_s), rate_hz);
    for (const auto f_hz : audibleFrequencies_hz()) {
        INFO(rate_hz << " Hz, at " << f_hz << " Hz");
        const auto w = 2 * pi * f_hz;
        const auto velocity_um_s =
            fullScale_um_s * std::abs(recordingCharacteristic(f_hz) * chainHighpass(f_hz, highpass_hz));
        const auto off_db = [&](const std::vector<double>& response, double expected) {
            return decibels(std::abs(responseAt(response, f_hz, rate_hz)) / expected);
        };
        CHECK(std::abs(off_db(m.displacement_um, velocity_um_s / w)) <= 0.1);
        CHECK(std::abs(off_db(m.velocity_um_s, velocity_um_s)) <= 0.1);
        CHECK(std::abs(off_db(m.acceleration_um_s2, velocity_um_s * w)) <= 0.1);
    }
}

TEST_CASE("the high-pass has its -3 dB at its corner", "[walls]") {
    // Closed form of a Butterworth; wanted to 0.1 dB at the ends of the range the setting has, and at the default.
    const auto corner_hz = GENERATE(2.0, 12.0, 80.0);
    const auto rate_hz = GENERATE(44100.0, 192000.0);
    INFO("corner " << corner_hz << " Hz at " << rate_hz << " Hz");
    const auto m = impulseResponse(designWallFilter(rate_hz, corner_hz, 50000), rate_hz, 5 / corner_hz);
    const auto unfiltered_um_s = 50000 * std::abs(recordingCharacteristic(corner_hz));
    const auto response_um_s = std::abs(responseAt(m.velocity_um_s, corner_hz, rate_hz));
    CHECK(decibels(response_um_s / unfiltered_um_s) == Approx(-3.01).margin(0.1));
}

TEST_CASE("tones of 5 cm/s move the wall as far as the check values say", "[walls]") {
    // Check values of the groove model, cut at -18 dBFS; the high-pass (2 Hz) takes 0.0004 dB at 20 Hz.
    struct Row {
        double frequency_hz, displacement_um;
    };
    const auto row = GENERATE(Row{1000, 7.958}, Row{50, 22.62}, Row{20, 43.26}, Row{10000, 3.868});
    const auto rate_hz = GENERATE(44100.0, 96000.0);
    INFO(row.frequency_hz << " Hz at a rate of " << rate_hz << " Hz");
    const auto design = designWallFilter(rate_hz, 2, fullScaleVelocity_um_s(5, -18, 0));
    const auto m = run(design, sine(row.frequency_hz, rate_hz, 4, -18));
    CHECK(decibels(settledPeak(m.displacement_um, rate_hz) / row.displacement_um) == Approx(0).margin(0.1));
    if (row.frequency_hz == 1000)
        CHECK(decibels(settledPeak(m.velocity_um_s, rate_hz) / 50000) == Approx(0).margin(0.02));
}

TEST_CASE("an offset moves the wall for a moment only", "[walls]") {
    // s·Hhp(s) is zero at s = 0: no constant input displaces anything for good.
    constexpr double rate_hz = 44100;
    const std::vector<float> offset(static_cast<std::size_t>(3 * rate_hz), 0.5f);
    const auto m = run(designWallFilter(rate_hz, 12, 50000), offset);
    const auto largest_um = *std::max_element(m.displacement_um.begin(), m.displacement_um.end());
    CHECK(largest_um > 1);
    CHECK(settledPeak(m.displacement_um, rate_hz) < 1e-6 * largest_um);
}

TEST_CASE("velocity and acceleration are of a known instant", "[walls]") {
    // A symmetric filter delays by half its length exactly: derivative times that delay, at every frequency.
    constexpr double rate_hz = 48000;
    const auto m = impulseResponse(designWallFilter(rate_hz, 12, 50000), rate_hz);
    for (const auto f_hz : {50.0, 1000.0, 5000.0, 15000.0}) {
        INFO(f_hz << " Hz");
        const auto w = 2 * pi * f_hz;
        const auto displacement = responseAt(m.displacement_um, f_hz, rate_hz);
        const auto lag = [&](double samples) { return std::polar(1.0, -w * samples / rate_hz); };
        const std::complex<double> j{0, 1};
        const auto velocity = responseAt(m.velocity_um_s, f_hz, rate_hz)
                              / (displacement * j * w * lag(MotionFilter::latencySamples - 0.5));
        const auto acceleration = responseAt(m.acceleration_um_s2, f_hz, rate_hz)
                                  / (displacement * -w * w * lag(MotionFilter::latencySamples));
        CHECK(std::arg(velocity) == Approx(0).margin(1e-6));
        CHECK(std::arg(acceleration) == Approx(0).margin(1e-6));
    }
}

TEST_CASE("the walls move the same for every block size", "[walls]") {
    const auto program = noise(20000, 1);
    const auto design = designWallFilter(44100, 12, 50000);
    const auto whole = run(design, program, MotionFilter::maxBlock);
    const auto block = GENERATE(1u, 2u, 13u, 14u, 15u, 64u, 509u);
    INFO("blocks of " << block);
    const auto pieces = run(design, program, block);
    CHECK(pieces.displacement_um == whole.displacement_um);
    CHECK(pieces.velocity_um_s == whole.velocity_um_s);
    CHECK(pieces.acceleration_um_s2 == whole.acceleration_um_s2);
}

TEST_CASE("each wall has its own channel", "[walls]") {
    const auto program = noise(5000, 2);
    const std::vector<float> silence(program.size(), 0.0f);
    const auto design = designWallFilter(44100, 12, 50000);
    std::vector<double> left_um(program.size()), right_um(program.size()), again_um(program.size()),
        still_um(program.size());
    DisplacementFilter leftOnly(design), rightOnly(design);
    leftOnly.process(program, silence, left_um, still_um);
    CHECK(std::all_of(still_um.begin(), still_um.end(), [](double d) { return d == 0; }));
    rightOnly.process(silence, program, still_um, right_um);
    CHECK(std::all_of(still_um.begin(), still_um.end(), [](double d) { return d == 0; }));
    CHECK(left_um == right_um);
    CHECK(*std::max_element(left_um.begin(), left_um.end()) > 0.1);
}

TEST_CASE("after loud program silence comes to rest, without numbers that slow the processor down",
          "[walls]") {
    const auto rate_hz = GENERATE(44100.0, 192000.0);
    constexpr std::size_t piece = 300;
    const auto design = designWallFilter(rate_hz, 12, 500000);
    DisplacementFilter displacement(design);
    MotionFilter motion(design);
    std::array<double, piece> left_um, right_um, velocity_um_s, acceleration_um_s2;
    const auto loud = noise(piece, 3);
    const std::vector<float> silence(piece, 0.0f);
    const auto pass = [&](const std::vector<float>& program) {
        displacement.process(program, program, left_um, right_um);
        motion.process(left_um, velocity_um_s, acceleration_um_s2);
        displacement.flushResidue();
    };
    for (int i = 0; i < 100; ++i)
        pass(loud);
    REQUIRE(std::abs(left_um.back()) > 0.1);
    auto subnormal = 0;
    // Left alone, a pole pair of 12 Hz decays below the smallest normal number in 14 s.
    for (double silent_s = 0; silent_s < 16; silent_s += piece / rate_hz) {
        pass(silence);
        for (const auto* values : {&left_um, &right_um, &velocity_um_s, &acceleration_um_s2})
            subnormal += static_cast<int>(std::count_if(
                values->begin(), values->end(), [](double v) { return std::fpclassify(v) == FP_SUBNORMAL; }));
    }
    CHECK(subnormal == 0);
    for (const auto* values : {&left_um, &right_um, &velocity_um_s, &acceleration_um_s2})
        CHECK(std::all_of(values->begin(), values->end(), [](double v) { return v == 0; }));
}
