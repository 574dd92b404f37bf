// SPDX-License-Identifier: GPL-3.0-or-later
// A steady tone with a whole number of waves to the turn lies beside itself wave by wave (it nests); with half a wave
// more, crest meets trough (it collides). At constant pitch p and depth h the land is then a closed form of the groove
// model, 2:  land(t) = p − 2h + √2·d_L(t − T) − √2·d_R(t),  d the wall displacement, of peak D. Wanted to 0.1 µm.
#include "Tests/Reference/EngineRun.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

constexpr double pitch_um = 150, depth_um = 25;
constexpr double flatLand_um = pitch_um - 2 * depth_um;
const double sqrt2 = std::sqrt(2.0);

/// Least land over whole turns, and the sector with the most of it, once the tone has been steady for a turn.
Range landOf(const cut::CutSettings& settings, double rate_hz, const Tone& tone) {
    const auto turn_s = settings.turn_s();
    const auto frames = cutTone(settings, rate_hz, 4.5 * turn_s, tone);
    const auto settled = between(frames, 2.4 * turn_s, 4.4 * turn_s);
    REQUIRE(settled.size() >= 511);
    for (const auto& f : settled) {
        REQUIRE(f.pitch_um == Approx(pitch_um).margin(1e-6));
        REQUIRE(f.depth_um == Approx(depth_um).margin(1e-9));
    }
    return rangeOf(settled, &cut::CutFrame::landMin_um);
}

/// A tone of so many waves to the turn.
Tone wavesPerTurn(const cut::CutSettings& settings, double waves, double left, double right,
                  double peak_dbfs = -18) {
    return {waves / settings.turn_s(), peak_dbfs, left, right};
}

} // namespace

TEST_CASE("a mono tone that nests leaves the land as in silence", "[nest]") {
    // d_L(t − T) = d_R(t): land = p − 2h at every moment.
    const auto settings = atConstantPitch(pitch_um);
    const auto rate_hz = GENERATE(44100.0, 96000.0);
    const auto waves = GENERATE(180, 1800, 9000);
    INFO(waves << " waves a turn at " << rate_hz << " Hz");
    const auto land = landOf(settings, rate_hz, wavesPerTurn(settings, waves, 1, 1));
    CHECK(land.least == Approx(flatLand_um).margin(0.1));
    CHECK(land.greatest == Approx(flatLand_um).margin(0.1));
}

TEST_CASE("a mono tone that collides takes both swings from the land", "[nest]") {
    // d_L(t − T) = −d_R(t): least land p − 2h − 2√2·D.
    const auto settings = atConstantPitch(pitch_um);
    const auto rate_hz = GENERATE(44100.0, 96000.0);
    const auto waves = GENERATE(180.5, 1800.5, 9000.5);
    INFO(waves << " waves a turn at " << rate_hz << " Hz");
    const auto tone = wavesPerTurn(settings, waves, 1, 1);
    const auto land = landOf(settings, rate_hz, tone);
    CHECK(land.least == Approx(flatLand_um - 2 * sqrt2 * tone.displacement_um(settings)).margin(0.1));
}

TEST_CASE("a tone in one channel takes one swing from the land, nested or not", "[nest]") {
    // Each edge follows one channel only, so one of d_L(t − T) and d_R(t) is zero: least land p − 2h − √2·D.
    const auto settings = atConstantPitch(pitch_um);
    const auto rate_hz = GENERATE(44100.0, 96000.0);
    const auto waves = GENERATE(1800.0, 1800.5);
    const auto right = GENERATE(true, false);
    INFO(waves << " waves a turn at " << rate_hz << " Hz, " << (right ? "right" : "left"));
    const auto tone = wavesPerTurn(settings, waves, right ? 0 : 1, right ? 1 : 0);
    const auto land = landOf(settings, rate_hz, tone);
    CHECK(land.least == Approx(flatLand_um - sqrt2 * tone.displacement_um(settings)).margin(0.1));
}

TEST_CASE("opposed channels collide when a mono tone would nest, and nest half a wave on", "[nest]") {
    // d_L = −d_R.
    auto settings = atConstantPitch(pitch_um);
    const auto rate_hz = GENERATE(44100.0, 96000.0);
    INFO(rate_hz << " Hz");
    const auto together = wavesPerTurn(settings, 1800, 1, -1, -24);
    CHECK(landOf(settings, rate_hz, together).least
          == Approx(flatLand_um - 2 * sqrt2 * together.displacement_um(settings)).margin(0.1));
    const auto apart = wavesPerTurn(settings, 1800.5, 1, -1, -24);
    CHECK(landOf(settings, rate_hz, apart).least == Approx(flatLand_um).margin(0.1));
}

TEST_CASE("a collision that meets is an overcut, the nested tone is none", "[nest]") {
    // 15 dB more: 2√2·D = 126.6 µm against 100 µm of land.
    auto settings = atConstantPitch(pitch_um);
    settings.disc_level_db = 15;
    const auto colliding = wavesPerTurn(settings, 1800.5, 1, 1);
    const auto land = landOf(settings, 44100, colliding);
    CHECK(land.least < 0);
    CHECK(land.least == Approx(flatLand_um - 2 * sqrt2 * colliding.displacement_um(settings)).margin(0.1));
    const auto overcuts = [&](const Tone& tone) {
        const auto frames = between(cutTone(settings, 44100, 7, tone), 4, 7);
        return std::count_if(frames.begin(), frames.end(),
                             [](const auto& f) { return f.has(cut::Flag::overcut); });
    };
    CHECK(overcuts(colliding) > 400);
    CHECK(overcuts(wavesPerTurn(settings, 1800, 1, 1)) == 0);
}

TEST_CASE("at 78 rpm the previous turn's edge is interpolated within its bound", "[nest]") {
    // 44100·60/78 is 33923 1/13 samples: the edge one turn ago lies between two samples. A straight line between samples
    // of a sine of amplitude A misses it by at most A·(2πf/fs)²/8: 0.03 µm at 1 kHz and 44.1 kHz, 0.37 µm at 5 kHz.
    auto settings = atConstantPitch(pitch_um);
    settings.rpm = 78;
    const auto rate_hz = GENERATE(44100.0, 96000.0);
    const auto waves = GENERATE(769, 3846);
    INFO(waves << " waves a turn at " << rate_hz << " Hz");
    const auto nested = wavesPerTurn(settings, waves, 1, 1);
    const auto amplitude_um = sqrt2 * nested.displacement_um(settings);
    const auto bound_um = amplitude_um * std::pow(nested.angular() / rate_hz, 2) / 8 + 0.001;
    const auto nestedLand = landOf(settings, rate_hz, nested);
    CHECK(nestedLand.least == Approx(flatLand_um).margin(bound_um));
    CHECK(nestedLand.greatest == Approx(flatLand_um).margin(bound_um));
    const auto colliding = wavesPerTurn(settings, waves + 0.5, 1, 1);
    CHECK(landOf(settings, rate_hz, colliding).least
          == Approx(flatLand_um - 2 * sqrt2 * colliding.displacement_um(settings)).margin(0.1 + bound_um));
}
