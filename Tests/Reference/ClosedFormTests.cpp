// SPDX-License-Identifier: GPL-3.0-or-later
// The whole engine, from program to frames, against closed forms of the groove model: what silence and tones must measure
// on the disc. The digital filters are exact at 1 kHz and promised within 0.1 dB (1.2 %) elsewhere.
#include "Tests/Reference/EngineRun.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

constexpr double rate_hz = 44100;
constexpr double um_per_cm = 1e4;
constexpr double tenthOfDecibel = 0.0116; ///< as a share
const double sqrt2 = std::sqrt(2.0);

} // namespace

TEST_CASE("silence is cut at the least spacing: land as set, width twice the depth", "[closed form]") {
    // land = p − 2h, so p = land_min + 2h = 62 µm. Held there when the pitch may not go below it.
    cut::CutSettings settings;
    settings.pitch_min_um = settings.land_min_um + 2 * settings.depth_basic_um;
    const auto frames = cutTone(settings, rate_hz, 8, {1000, -400});
    const auto settled = between(frames, 4, 8);
    REQUIRE(settled.size() > 500);
    const auto land = rangeOf(settled, &cut::CutFrame::landMin_um);
    CHECK(land.least == Approx(settings.land_min_um).margin(0.01));
    CHECK(land.greatest == Approx(settings.land_min_um).margin(0.01));
    const auto pitch = rangeOf(settled, &cut::CutFrame::pitch_um);
    CHECK(pitch.least == Approx(62).margin(0.01));
    CHECK(pitch.greatest == Approx(62).margin(0.03)); // the land is kept between boundaries too
    CHECK(rangeOf(settled, &cut::CutFrame::widthMin_um).least == Approx(50).margin(1e-6));
    CHECK(rangeOf(settled, &cut::CutFrame::lateralPeak_cm_s).greatest == Approx(0).margin(1e-6));
    CHECK(std::all_of(settled.begin(), settled.end(), [](const auto& f) { return f.flags == 0; }));
}

TEST_CASE("silence spends no more disc than its spacing", "[closed form]") {
    // Where the pitch may go below 62 µm it may do so for a part of a turn; a whole turn still advances 62 µm.
    const cut::CutSettings settings;
    const auto settled = between(cutTone(settings, rate_hz, 42, {1000, -400}), 5, 41);
    const auto turns = (settled.back().time_s - settled.front().time_s) / 1.8;
    const auto spent_um = (settled.front().radius_mm - settled.back().radius_mm) * 1000;
    CHECK(spent_um / turns == Approx(62).epsilon(0.005));
    CHECK(rangeOf(settled, &cut::CutFrame::landMin_um).least >= settings.land_min_um - 0.01);
}

TEST_CASE("there is one frame a sector, from the lowering of the stylus on", "[closed form]") {
    // 79380 samples a turn in 256 sectors: 310 or 311 samples each; lead-in of 1¼ turns, 99225 samples.
    const cut::CutSettings settings;
    const auto frames = cutTone(settings, rate_hz, 4, {1000, -400});
    auto end_samples = -99225.0;
    for (std::size_t k = 0; k < 1000; ++k) {
        const auto next_samples = frames[k].time_s * rate_hz;
        INFO("sector " << k);
        REQUIRE(frames[k].turn == Approx(static_cast<double>(k + 1) / 256).epsilon(1e-12));
        REQUIRE(next_samples - end_samples == Approx(310.5).margin(0.5001));
        end_samples = next_samples;
    }
    CHECK(frames[320].state == cut::State::program);
    CHECK(frames[319].state == cut::State::leadIn);
    CHECK(frames[319].time_s == 0);
}

TEST_CASE("silence at constant pitch leaves the pitch less twice the depth as land", "[closed form]") {
    const auto pitch_um = GENERATE(80.0, 150.0, 400.0);
    const auto frames = cutTone(atConstantPitch(pitch_um), rate_hz, 5, {1000, -400});
    const auto land = rangeOf(between(frames, 3, 5), &cut::CutFrame::landMin_um);
    CHECK(land.least == Approx(pitch_um - 50).margin(1e-6));
    CHECK(land.greatest == Approx(pitch_um - 50).margin(1e-6));
}

TEST_CASE("a tone in one channel swings one edge", "[closed form]") {
    // Peak displacement d of the wall: the land loses √2·d, whichever channel; the width 2h loses √2·d.
    const auto right = GENERATE(true, false);
    INFO((right ? "right" : "left"));
    const auto settings = atConstantPitch(150);
    const Tone tone{1000, -18, right ? 0.0 : 1.0, right ? 1.0 : 0.0};
    const auto settled = between(cutTone(settings, rate_hz, 6, tone), 4, 6);
    const auto swing_um = sqrt2 * 7.958; // check value of the groove model for 5 cm/s
    CHECK(rangeOf(settled, &cut::CutFrame::landMin_um).least == Approx(100 - swing_um).margin(0.01));
    CHECK(rangeOf(settled, &cut::CutFrame::widthMin_um).least == Approx(50 - swing_um).margin(0.01));
    CHECK(rangeOf(settled, &cut::CutFrame::depth_um).greatest == Approx(25));
}

TEST_CASE("only the land on the swinging edge's side is lost", "[closed form]") {
    // One turn of tone in silence. Right is the outer edge: it swings towards the turn before, while it lasts. Left is
    // the inner edge: the turn after, which is silent, comes as much too near, one turn later.
    const auto right = GENERATE(true, false);
    INFO((right ? "right" : "left"));
    const auto settings = atConstantPitch(150);
    const Tone tone{1000, -18, right ? 0.0 : 1.0, right ? 1.0 : 0.0};
    constexpr std::array<float, 2> silent{0, 0};
    const auto frames = cutProgram(settings, rate_hz, 10, [&](std::int64_t i) {
        return i < 5.4 * rate_hz ? tone.at(i, rate_hz) : silent; // three turns of tone
    });
    const auto during = rangeOf(between(frames, 3.6, 5.3), &cut::CutFrame::landMin_um);
    CHECK(during.least == Approx(100 - sqrt2 * 7.958).margin(0.01));
    const auto oneTurnLater = rangeOf(between(frames, 5.6, 7.1), &cut::CutFrame::landMin_um);
    CHECK(oneTurnLater.least == Approx(right ? 100.0 : 100 - sqrt2 * 7.958).margin(0.01));
}

TEST_CASE("equal channels keep the width, opposed ones widen and narrow it", "[closed form]") {
    const auto settings = atConstantPitch(150);
    const auto mono = between(cutTone(settings, rate_hz, 4, {1000, -18, 1, 1}), 2, 4);
    CHECK(rangeOf(mono, &cut::CutFrame::widthMin_um).least == Approx(50).margin(1e-6));
    // Width 2h + √2(d_R − d_L): its least is 2h − 2√2·d.
    const auto opposed = between(cutTone(settings, rate_hz, 4, {1000, -24, 1, -1}), 2, 4);
    const Tone quiet{1000, -24};
    CHECK(rangeOf(opposed, &cut::CutFrame::widthMin_um).least
          == Approx(50 - 2 * sqrt2 * quiet.displacement_um(settings)).margin(0.01));
}

TEST_CASE("lateral and vertical velocity of the reference tone", "[closed form]") {
    // 5 cm/s a wall at -18 dBFS: √2 times that laterally for L = R, vertically for L = −R.
    const auto settings = atConstantPitch(150);
    const auto mono = between(cutTone(settings, rate_hz, 4, {1000, -18, 1, 1}), 2, 4);
    CHECK(rangeOf(mono, &cut::CutFrame::lateralPeak_cm_s).greatest == Approx(5 * sqrt2).epsilon(0.002));
    CHECK(rangeOf(mono, &cut::CutFrame::verticalPeak_cm_s).greatest == Approx(0).margin(1e-9));
    const auto opposed = between(cutTone(settings, rate_hz, 4, {1000, -18, 1, -1}), 2, 4);
    CHECK(rangeOf(opposed, &cut::CutFrame::verticalPeak_cm_s).greatest == Approx(5 * sqrt2).epsilon(0.002));
    CHECK(rangeOf(opposed, &cut::CutFrame::lateralPeak_cm_s).greatest == Approx(0).margin(1e-9));
    const auto one = between(cutTone(settings, rate_hz, 4, {1000, -18, 0, 1}), 2, 4);
    CHECK(rangeOf(one, &cut::CutFrame::lateralPeak_cm_s).greatest == Approx(5 / sqrt2).epsilon(0.002));
    CHECK(rangeOf(one, &cut::CutFrame::verticalPeak_cm_s).greatest == Approx(5 / sqrt2).epsilon(0.002));
}

TEST_CASE("the tone's level on the disc follows reference, alignment and disc level", "[closed form]") {
    auto settings = atConstantPitch(150);
    settings.reference_velocity_cm_s = 7;
    settings.alignment_dbfs = -14;
    settings.disc_level_db = -3;
    const Tone tone{1000, -20, 1, 1};
    const auto settled = between(cutTone(settings, rate_hz, 4, tone), 2, 4);
    CHECK(rangeOf(settled, &cut::CutFrame::lateralPeak_cm_s).greatest
          == Approx(7 * sqrt2 * std::pow(10, -9.0 / 20)).epsilon(0.002));
    CHECK(rangeOf(settled, &cut::CutFrame::peak_dbfs).greatest == Approx(-20).margin(0.001));
}

TEST_CASE("slope and curvature of a known tone", "[closed form]") {
    // A wall's edge moves √2 times as fast as the wall along its normal: slope √2·v/v_g; its curvature is that along its
    // normal, v_g²/a; with v_g = 2πr/T. One wall's tone is as steep and as tight as the same tone on both.
    const auto left = GENERATE(1, 0, -1);
    INFO("left " << left);
    const auto frequency_hz = GENERATE(100.0, 1000.0, 5000.0, 10000.0);
    INFO(frequency_hz << " Hz");
    const auto settings = atConstantPitch(150);
    const Tone tone{frequency_hz, -20, static_cast<double>(left), 1};
    const auto settled = between(cutTone(settings, rate_hz, 4, tone), 3, 4);
    for (std::size_t i = 0; i < settled.size(); i += 20) {
        const auto& f = settled[i];
        const auto speed_um_s = 2 * std::numbers::pi * f.radius_mm * 1000 / 1.8;
        if (frequency_hz > 500) // a sector of 7 ms holds whole waves
            CHECK(f.slopePeak
                  == Approx(sqrt2 * tone.velocity_um_s(settings) / speed_um_s).epsilon(tenthOfDecibel));
    }
    const auto& worst = rangeOf(settled, &cut::CutFrame::slopePeak);
    const auto speed_um_s = 2 * std::numbers::pi * settled.back().radius_mm * 1000 / 1.8;
    CHECK(worst.greatest
          == Approx(sqrt2 * tone.velocity_um_s(settings) / speed_um_s).epsilon(tenthOfDecibel));
    CHECK(rangeOf(settled, &cut::CutFrame::curvatureMin_um).least
          == Approx(speed_um_s * speed_um_s / tone.acceleration_um_s2(settings)).epsilon(tenthOfDecibel));
}

TEST_CASE("the groove runs at 51.0 and 21.1 cm/s", "[closed form]") {
    // Groove model, 5: at 146.05 and 60.325 mm, 33⅓ rpm. From the frames: velocity by slope.
    struct Row {
        double radius_mm, speed_cm_s;
    };
    const auto row = GENERATE(Row{146.05, 51.0}, Row{60.325, 21.1});
    auto settings = atConstantPitch(100);
    settings.start_radius_mm = row.radius_mm;
    settings.end_radius_mm = 57.5;
    const auto first = between(cutTone(settings, rate_hz, 2, {1000, -18, 1, 1}), 1.5, 1.6);
    REQUIRE_FALSE(first.empty());
    CHECK(first.front().radius_mm == Approx(row.radius_mm).margin(0.1));
    CHECK(first.front().lateralPeak_cm_s / first.front().slopePeak == Approx(row.speed_cm_s).margin(0.1));
}

TEST_CASE("10 kHz at 57.5 mm is 20.1 µm long", "[closed form]") {
    // Groove model, 5. A wall that moves as a sine of slope v/v_g and crest radius ρ along its normal has the wavelength
    // 2πρ·v/v_g; the slope in plan is √2 of that. Both come from the frames.
    auto settings = atConstantPitch(400);
    settings.start_radius_mm = 60;
    settings.end_radius_mm = 57.5;
    const auto frames = cutTone(settings, 96000, 11.5, {10000, -24, 1, 1});
    const auto there = std::find_if(frames.begin(), frames.end(),
                                    [](const cut::CutFrame& f) { return f.radius_mm <= 57.5; });
    REQUIRE(there != frames.end());
    REQUIRE(there->state == cut::State::program);
    CHECK(2 * std::numbers::pi * there->curvatureMin_um * there->slopePeak / sqrt2
          == Approx(20.1).margin(0.1));
}

TEST_CASE("playing time at constant pitch", "[closed form]") {
    // t = (R_out − R_in)/p·T, for 33⅓ and 45. Without carriage lag nothing of the lead-in's pitch is left in the program.
    struct Row {
        int format;
        double turn_s;
    };
    const auto row = GENERATE(Row{0, 1.8}, Row{1, 4.0 / 3.0});
    constexpr double pitch_um = 130, length_s = 60;
    cut::CutSettings settings = atConstantPitch(pitch_um);
    settings.applyFormat(row.format);
    settings.carriage_lag_s = 0;
    const auto frames = cutTone(settings, rate_hz, length_s, {1000, -60});
    const auto program = between(frames, 0, length_s);
    REQUIRE(program.size() > 1000);
    for (const auto& f : {program[400], program[program.size() / 2], program.back()}) {
        const auto playing_s = (settings.start_radius_mm - f.radius_mm) * 1000 / pitch_um * row.turn_s;
        CHECK(playing_s == Approx(f.time_s).margin(1e-6));
        CHECK(f.turn - settings.lead_in_turns == Approx(f.time_s / row.turn_s).margin(1e-9));
    }
    CHECK(program.back().time_s == Approx(length_s).margin(row.turn_s / settings.sectors_per_turn));
}

TEST_CASE("with a carriage lag the program starts at its radius and keeps its time", "[closed form]") {
    // What the lag leaves of the lead-in after its closing (e⁻⁴) is worth 0.6 µm, 8 ms of playing time.
    const auto settings = atConstantPitch(130);
    const auto frames = cutTone(settings, rate_hz, 30, {1000, -60});
    const auto program = between(frames, 0, 30);
    CHECK(program.front().radius_mm == Approx(settings.start_radius_mm).margin(0.002));
    const auto playing_s = (settings.start_radius_mm - program.back().radius_mm) * 1000 / 130 * 1.8;
    CHECK(playing_s == Approx(program.back().time_s).margin(0.01));
}

TEST_CASE("an offset in the program cuts nothing", "[closed form]") {
    const auto settings = atConstantPitch(150);
    const auto frames = cutProgram(settings, rate_hz, 6, [](std::int64_t) {
        return std::array<float, 2>{0.5f, -0.25f};
    });
    const auto settled = between(frames, 4, 6);
    CHECK(rangeOf(settled, &cut::CutFrame::landMin_um).least == Approx(100).margin(0.001));
    CHECK(rangeOf(settled, &cut::CutFrame::widthMin_um).least == Approx(50).margin(0.001));
}
