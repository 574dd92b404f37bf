// SPDX-License-Identifier: GPL-3.0-or-later
// The recording characteristic against two independent implementations, sox's riaa and ffmpeg's aemphasis, at 96 kHz:
// what we cut is played back by them and must come out flat. All from impulse responses. The tolerances are what each of
// them is good for against the analogue curve (groove model, 1, measured).
#include "Groove/RecordingCharacteristic.h"
#include "Groove/WallFilter.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Groove/Response.h"
#include "Tests/Reference/Command.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace headland::groove;
using namespace headland::test;

namespace {

constexpr int rate_hz = 96000;
constexpr double highpass_hz = 2; ///< takes 0.0004 dB at 20 Hz

/// Velocity of one wall for a full-scale impulse, scaled to unity at 1 kHz.
std::vector<double> cutImpulse() {
    constexpr std::size_t length = 3 * rate_hz; // e⁻²⁶ of the high-pass is left
    const auto design = designWallFilter(rate_hz, highpass_hz, 1);
    std::vector<float> impulse(length, 0.0f), silence(length, 0.0f);
    impulse[0] = 1.0f;
    std::vector<double> wall(length), otherWall(length), velocity(length), acceleration(length);
    DisplacementFilter(design).process(impulse, silence, wall, otherWall);
    MotionFilter motion(design);
    for (std::size_t at = 0; at < length; at += MotionFilter::maxBlock) {
        const auto piece = [at](auto& all) {
            return std::span(all).subspan(at, std::min<std::size_t>(MotionFilter::maxBlock, length - at));
        };
        motion.process(piece(wall), piece(velocity), piece(acceleration));
    }
    return velocity;
}

std::vector<double> plainImpulse() {
    std::vector<double> impulse(3 * rate_hz, 0.0);
    impulse[0] = 1;
    return impulse;
}

/// Sends an impulse response through another program that reads and writes raw double samples. Quietly, so that nothing
/// clips on the way; sox works in 32 bit integers.
template <typename MakeCommand>
std::vector<double> playedBy(MakeCommand command, const std::vector<double>& response) {
    constexpr double level = 0.05;
    const TestFolder folder;
    const auto scaled = [](std::vector<double> samples, double factor) {
        for (auto& sample : samples)
            sample *= factor;
        return samples;
    };
    writeRaw(folder / "in.raw", scaled(response, level));
    runCommand(command(quoted(folder / "in.raw"), quoted(folder / "out.raw")));
    auto played = readRaw<double>(folder / "out.raw");
    REQUIRE(played.size() == response.size());
    return scaled(std::move(played), 1 / level);
}

std::vector<double> soxRiaa(const std::vector<double>& response) {
    return playedBy(
        [](const std::string& in, const std::string& out) {
            const std::string raw = "-t f64 -r " + std::to_string(rate_hz) + " -c 1 ";
            return "sox -D " + raw + in + " " + raw + out + " riaa";
        },
        response);
}

std::vector<double> ffmpegEmphasis(const std::string& mode, const std::vector<double>& response) {
    return playedBy(
        [&mode](const std::string& in, const std::string& out) {
            return "ffmpeg -nostdin -v error -f f64le -ar " + std::to_string(rate_hz) + " -ac 1 -i " + in
                   + " -af aemphasis=type=riaa:mode=" + mode + " -f f64le " + out;
        },
        response);
}

double level_db(const std::vector<double>& response, double frequency_hz) {
    return decibels(std::abs(responseAt(response, frequency_hz, rate_hz)));
}

double characteristic_db(double frequency_hz) {
    return decibels(std::abs(recordingCharacteristic(frequency_hz)));
}

} // namespace

TEST_CASE("sox plays the formula back flat", "[playback]") {
    // sox's riaa at 96 kHz is within 0.07 dB of the analogue curve from 20 Hz to 20 kHz; its 0 dB is at 1 kHz, too.
    const auto played = soxRiaa(plainImpulse());
    for (const auto f_hz : audibleFrequencies_hz()) {
        INFO(f_hz << " Hz");
        CHECK(level_db(played, f_hz) + characteristic_db(f_hz) == Approx(0).margin(0.08));
    }
}

TEST_CASE("sox plays what we cut back flat", "[playback]") {
    // sox's 0.07 dB and our 0.1 dB.
    const auto played = soxRiaa(cutImpulse());
    for (const auto f_hz : audibleFrequencies_hz()) {
        INFO(f_hz << " Hz");
        CHECK(level_db(played, f_hz) == Approx(0).margin(0.17));
    }
}

TEST_CASE("ffmpeg plays the formula back flat", "[playback]") {
    // ffmpeg's aemphasis, reproduction, at 96 kHz: within 0.01 dB up to 2 kHz, bends to -0.43 dB at 10 kHz.
    const auto played = ffmpegEmphasis("reproduction", plainImpulse());
    for (const auto f_hz : audibleFrequencies_hz()) {
        INFO(f_hz << " Hz");
        if (f_hz > 10000)
            continue;
        CHECK(level_db(played, f_hz) + characteristic_db(f_hz)
              == Approx(0).margin(f_hz <= 2000 ? 0.01 : 0.45));
    }
}

TEST_CASE("ffmpeg cuts as the formula does", "[playback]") {
    // ffmpeg's aemphasis, production, at 96 kHz: within 0.01 dB up to 2 kHz, bends to +0.18 dB at 10 kHz.
    const auto cut = ffmpegEmphasis("production", plainImpulse());
    for (const auto f_hz : audibleFrequencies_hz()) {
        INFO(f_hz << " Hz");
        if (f_hz > 10000)
            continue;
        CHECK(level_db(cut, f_hz) == Approx(characteristic_db(f_hz)).margin(f_hz <= 2000 ? 0.01 : 0.2));
    }
}

TEST_CASE("ffmpeg plays what we cut back flat", "[playback]") {
    // ffmpeg's 0.01 dB up to 2 kHz and 0.45 dB up to 10 kHz, and our 0.1 dB.
    const auto played = ffmpegEmphasis("reproduction", cutImpulse());
    for (const auto f_hz : audibleFrequencies_hz()) {
        INFO(f_hz << " Hz");
        if (f_hz > 10000)
            continue;
        CHECK(level_db(played, f_hz) == Approx(0).margin(f_hz <= 2000 ? 0.11 : 0.55));
    }
}
