// SPDX-License-Identifier: GPL-3.0-or-later
// The analogue formulas against the published table and their own definitions.
#include "Groove/RecordingCharacteristic.h"

#include "Tests/Groove/Response.h"

#include <catch2/catch.hpp>
#include <numbers>

using namespace headland::groove;
using headland::test::decibels;

TEST_CASE("the recording characteristic is the published one", "[characteristic]") {
    // Lipshitz, "On RIAA Equalization Networks", JAES 27(6), 1979, table; second-hand, from memory. Three decimals.
    struct Row {
        double frequency_hz, recording_db;
    };
    const auto row = GENERATE(Row{20, -19.274}, Row{50, -16.946}, Row{100, -13.088}, Row{500, -2.648},
                              Row{1000, 0.0}, Row{5000, 8.210}, Row{10000, 13.734}, Row{20000, 19.620});
    INFO(row.frequency_hz << " Hz");
    CHECK(decibels(std::abs(recordingCharacteristic(row.frequency_hz)))
          == Approx(row.recording_db).margin(0.001));
}

TEST_CASE("the recording characteristic turns at its time constants", "[characteristic]") {
    // IEC 60098 / RIAA: 3180, 318 and 75 µs. From the formula: rising by 6 dB an octave far above the last of them.
    CHECK(bassTime_s == 3180e-6);
    CHECK(middleTime_s == 318e-6);
    CHECK(trebleTime_s == 75e-6);
    const auto octave_db =
        decibels(std::abs(recordingCharacteristic(200000)) / std::abs(recordingCharacteristic(100000)));
    CHECK(octave_db == Approx(6.02).margin(0.01));
}

TEST_CASE("the chain's high-pass is a Butterworth of second order", "[characteristic]") {
    // Closed form: |H|² = 1/(1 + (fc/f)⁴).
    const auto corner_hz = GENERATE(2.0, 12.0, 80.0);
    INFO("corner " << corner_hz << " Hz");
    CHECK(decibels(std::abs(chainHighpass(corner_hz, corner_hz))) == Approx(-3.0103).margin(1e-4));
    for (const auto ratio : {0.1, 0.5, 2.0, 10.0}) {
        const auto expected = 1 / std::sqrt(1 + std::pow(1 / ratio, 4));
        CHECK(std::abs(chainHighpass(ratio * corner_hz, corner_hz)) == Approx(expected).epsilon(1e-9));
    }
}

TEST_CASE("full scale is as many decibels above the reference as the alignment is below it",
          "[characteristic]") {
    CHECK(fullScaleVelocity_um_s(5, 0, 0) == Approx(50000));
    CHECK(fullScaleVelocity_um_s(5, -20, 0) == Approx(500000));
    CHECK(fullScaleVelocity_um_s(5, -20, -40) == Approx(5000));
    CHECK(fullScaleVelocity_um_s(7, -18, 3) == Approx(70000 * std::pow(10, 21.0 / 20)));
}

TEST_CASE("displacement of 5 cm/s", "[characteristic]") {
    // Check values of the groove model: peak of one wall for 5 cm/s at 1 kHz, high-pass off, to the digits given there.
    struct Row {
        double frequency_hz, displacement_um, margin_um;
    };
    const auto row = GENERATE(Row{1000, 7.958, 0.0005}, Row{50, 22.62, 0.005}, Row{20, 43.26, 0.005},
                              Row{10000, 3.868, 0.0005});
    INFO(row.frequency_hz << " Hz");
    const auto displacement_um = 50000 * std::abs(recordingCharacteristic(row.frequency_hz))
                                 / (2 * std::numbers::pi * row.frequency_hz);
    CHECK(displacement_um == Approx(row.displacement_um).margin(row.margin_um));
}
