// SPDX-License-Identifier: GPL-3.0-or-later
// The whole chain: equal for every block size, true to its set-up on random programs, and sane on bad ones.
#include "Cut/CutEngine.h"
#include "Cut/CutSummary.h"
#include "Tests/Cut/TestPrograms.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>
#include <limits>
#include <set>

using namespace headland;
using cut::Flag;
using cut::State;

namespace {

std::vector<cut::CutFrame> programOnly(const std::vector<cut::CutFrame>& frames) {
    std::vector<cut::CutFrame> result;
    std::copy_if(frames.begin(), frames.end(), std::back_inserter(result),
                 [](const cut::CutFrame& f) { return f.state == State::program; });
    return result;
}

bool anyFlag(const std::vector<cut::CutFrame>& frames, Flag flag) {
    return std::any_of(frames.begin(), frames.end(), [flag](const cut::CutFrame& f) { return f.has(flag); });
}

/// Short lead-in and out, so that small programs make small tests.
cut::CutSettings quickSettings() {
    cut::CutSettings s;
    s.lead_in_turns = 1;
    return s;
}

} // namespace

TEST_CASE("Frames are the same bits for every block size", "[cut]") {
    const auto program = test::randomProgram(3, 2.2);
    const auto settings = quickSettings();
    const auto whole = test::cutAll(settings, program, program.length());
    REQUIRE(whole.size() > 1000);
    std::set<std::size_t> blocks{1, 2, 3, 5, 7, 13, 31, 64, 127, 310, 311, 512, 513, 1000, 4096, 8191, 8192};
    for (std::size_t block = 17; block <= 8192; block = block * 5 / 4 + 1)
        blocks.insert(block);
    for (const auto block : blocks) {
        INFO("block of " << block);
        REQUIRE(test::sameBits(test::cutAll(settings, program, block), whole));
    }
}

TEST_CASE("Frames are the same bits for blocks of changing size, and at other rates and speeds", "[cut]") {
    for (const auto rate_hz : {48000.0, 96000.0, 192000.0})
        for (const auto rpm : {100.0 / 3, 45.0, 78.0}) {
            auto settings = quickSettings();
            settings.rpm = rpm;
            const auto program = test::randomProgram(4, 1.5, rate_hz);
            const auto whole = test::cutAll(settings, program, 8192);
            cut::CutEngine engine;
            engine.prepare(settings, rate_hz);
            test::FrameKeeper keeper;
            test::Random random(5);
            while (!engine.leadInSome(static_cast<int>(random.between(1, 3000)), keeper)) {
            }
            for (std::size_t i = 0; i < program.length();) {
                const auto count =
                    std::min(program.length() - i, static_cast<std::size_t>(random.between(1, 3000)));
                engine.process(&program.left[i], &program.right[i], static_cast<int>(count), keeper);
                i += count;
            }
            while (!engine.finishSome(static_cast<int>(random.between(1, 3000)), keeper)) {
            }
            INFO(rate_hz << " Hz, " << rpm << " rpm");
            REQUIRE(test::sameBits(keeper.frames, whole));
        }
}

TEST_CASE("On random programs the measured land is the set land wherever no shortfall was called", "[cut]") {
    for (unsigned seed = 1; seed <= 6; ++seed)
        for (const auto preview_turns : {1.0, 2.0}) {
            auto settings = quickSettings();
            settings.preview_s = preview_turns * settings.turn_s();
            settings.depth_max_um = 90;
            const auto frames = test::cutAll(settings, test::randomProgram(seed, 40));
            INFO("seed " << seed << ", preview " << preview_turns << " turns");
            auto widestPitch = 0.0, deepest = 0.0;
            for (const auto& f : programOnly(frames)) {
                REQUIRE(f.shortfall_um < 0.01);
                REQUIRE_FALSE(f.has(Flag::limit));
                if (!std::isnan(f.landMin_um))
                    REQUIRE(f.landMin_um >= settings.land_min_um - 0.1);
                REQUIRE(f.widthMin_um >= settings.width_min_um - 0.5);
                widestPitch = std::max(widestPitch, f.pitch_um);
                deepest = std::max(deepest, f.depth_um);
            }
            REQUIRE(widestPitch > 120); // it was worth the test
            REQUIRE(deepest > 32);
        }
}

TEST_CASE("Commands and axes stay within limits and slew on random programs", "[cut]") {
    auto settings = quickSettings();
    settings.pitch_max_um = 170; // reached
    settings.depth_max_um = 34;
    const auto frames = programOnly(test::cutAll(settings, test::randomProgram(7, 60)));
    const auto sector_s = settings.turn_s() / settings.sectors_per_turn;
    auto widest = 0.0, deepest = 0.0;
    for (std::size_t i = 1; i < frames.size(); ++i) {
        const auto& f = frames[i];
        const auto& before = frames[i - 1];
        REQUIRE(f.pitchCommand_um >= settings.pitch_min_um - 1e-9);
        REQUIRE(f.pitchCommand_um <= settings.pitch_max_um + 1e-9);
        REQUIRE(std::abs(f.pitchCommand_um - before.pitchCommand_um)
                <= settings.pitch_slew_um_per_rev_s * sector_s * (1 + 1e-9));
        if (i > 256) // the lead-in's wide pitch is still settling at first
            REQUIRE(f.pitch_um <= settings.pitch_max_um + 1e-6);
        REQUIRE(f.depth_um <= settings.depth_max_um + 1e-9);
        REQUIRE(f.depth_um >= settings.depth_basic_um - 1e-9);
        REQUIRE(std::abs(f.depthCommand_um - before.depthCommand_um)
                <= settings.depth_slew_um_s * sector_s * (1 + 1e-9));
        widest = std::max(widest, f.pitchCommand_um);
        deepest = std::max(deepest, f.depth_um);
    }
    REQUIRE(widest == Approx(settings.pitch_max_um));
    REQUIRE(deepest > 33);
}

TEST_CASE("A side runs lead-in, program, lead-out and finishing groove where the format wants them",
          "[cut]") {
    const cut::CutSettings settings;
    const auto frames = test::cutAll(settings, test::randomProgram(8, 30));
    std::vector<State> order{frames.front().state};
    for (const auto& f : frames)
        if (f.state != order.back())
            order.push_back(f.state);
    REQUIRE(order == std::vector{State::leadIn, State::program, State::leadOut, State::finishing});

    const auto first = std::find_if(frames.begin(), frames.end(), [](const auto& f) { return f.time_s > 0; });
    REQUIRE(std::prev(first)->time_s == Approx(0).margin(1e-9));
    REQUIRE(std::prev(first)->radius_mm == Approx(settings.start_radius_mm).margin(0.05));
    REQUIRE(std::prev(first)->radius_mm <= settings.start_radius_mm + 1e-6);
    REQUIRE(frames.front().radius_mm - settings.start_radius_mm > 1.0);
    REQUIRE(frames.back().turn - std::floor(frames.back().turn) < 1);
    // IEC 60098:1987, 8.9 (second-hand): finishing groove 106.4 ± 0.8 mm in diameter.
    REQUIRE(2 * frames.back().radius_mm == Approx(106.4).margin(0.8));
    // Closed: over its last half turn the groove does not move inwards any more.
    REQUIRE(frames[frames.size() - 128].radius_mm - frames.back().radius_mm < 1e-3);
    const auto leadOutTurns =
        static_cast<double>(std::count_if(frames.begin(), frames.end(),
                                          [](const auto& f) { return f.state == State::leadOut; }))
        / settings.sectors_per_turn;
    REQUIRE(leadOutTurns >= settings.lead_out_turns);
    for (const auto& f : frames)
        REQUIRE_FALSE(f.has(Flag::overcut));
}

TEST_CASE("A full side leaves a narrower lead-out, still of at least one turn", "[cut]") {
    cut::CutSettings settings;
    settings.start_radius_mm = 61; // close to the end radius of 60.325
    const auto frames = test::cutAll(settings, test::silence(12));
    double turns = 0, widest = 0;
    for (const auto& f : frames)
        if (f.state == State::leadOut) {
            turns += 1.0 / settings.sectors_per_turn;
            widest = std::max(widest, f.pitch_um);
        }
    REQUIRE(turns >= 1);
    REQUIRE(widest > 3200); // IEC 60098:1987, 8.8 (second-hand): 6.4 ± 3.2 mm
    REQUIRE(2 * frames.back().radius_mm == Approx(106.4).margin(0.8));
}

TEST_CASE("A program inside the innermost radius that ends before the disc does is cut to its end and said "
          "not to fit",
          "[cut]") {
    cut::CutSettings settings;
    settings.start_radius_mm = 62;
    const auto frames = test::cutAll(settings, test::silence(90));
    cut::SummaryBuilder builder(settings);
    for (const auto& f : frames)
        builder.frame(f);
    const auto summary = builder.summary();
    REQUIRE(summary.sideLength_s == Approx(90).margin(0.01));
    REQUIRE_FALSE(summary.fits);
    REQUIRE(summary.verdict() == cut::Verdict::cannotBeCut);
    REQUIRE(summary.verdictLine().find("does not fit") != std::string::npos);
    // Silence spends 62 µm a turn (two half-widths and the land) once the lead-in's room is used up.
    const auto ideal_s = (62 - 60.325) * 1000 / 62 * 1.8;
    REQUIRE(summary.fitLength_s < ideal_s + 1.8);
    REQUIRE(summary.fitLength_s > ideal_s * 0.92);
    REQUIRE(summary.left_mm < 0);
}

TEST_CASE("Empty and one-sample programs make a whole, if short, side", "[cut]") {
    for (const std::size_t length : {0, 1, 100}) {
        auto program = test::silence(1);
        program.left.resize(length);
        program.right.resize(length);
        const auto frames = test::cutAll(quickSettings(), program);
        REQUIRE(frames.back().state == State::finishing);
        REQUIRE(programOnly(frames).size() == (length > 0 ? 1 : 0));
    }
}

TEST_CASE("NaN, infinity and absurd samples are cut as silence, counted and flagged where they are",
          "[cut]") {
    auto clean = test::randomProgram(9, 4);
    auto bad = clean;
    const auto at = static_cast<std::size_t>(2.5 * 44100);
    clean.left[at] = clean.right[at + 1] = clean.left[at + 2] = 0;
    bad.left[at] = std::numeric_limits<float>::quiet_NaN();
    bad.right[at + 1] = -std::numeric_limits<float>::infinity();
    bad.left[at + 2] = 1e30f;

    cut::CutEngine engine;
    engine.prepare(quickSettings(), 44100);
    test::FrameKeeper keeper;
    engine.process(bad.left.data(), bad.right.data(), static_cast<int>(bad.length()), keeper);
    engine.finish(keeper);
    REQUIRE(engine.badSamples() == 3);
    REQUIRE(engine.firstBadSample_s() == Approx(2.5).margin(1e-4));

    auto expected = test::cutAll(quickSettings(), clean);
    std::vector<double> flagged_s;
    for (auto& f : keeper.frames)
        if (f.has(Flag::badSample)) {
            flagged_s.push_back(f.time_s);
            f.flags = static_cast<std::uint16_t>(f.flags & ~static_cast<unsigned>(Flag::badSample));
        }
    REQUIRE(flagged_s.size() == 1);
    REQUIRE(flagged_s[0] == Approx(2.5).margin(0.008));
    REQUIRE(test::sameBits(keeper.frames, expected));
}

TEST_CASE("A steady offset displaces nothing once it has settled", "[cut]") {
    auto program = test::silence(8);
    std::fill(program.left.begin(), program.left.end(), 0.5f);
    std::fill(program.right.begin(), program.right.end(), 0.5f);
    const auto frames = programOnly(test::cutAll(quickSettings(), program));
    for (const auto& f : frames)
        if (f.time_s > 5 && f.time_s < 7.9) { // the offset's own end is a step again
            REQUIRE(f.lateralPeak_cm_s < 1e-6);
            REQUIRE(f.demand_um == Approx(62).margin(1e-3));
        }
}

TEST_CASE("A full-scale 10 Hz tone is analysed, flagged and bounded", "[cut]") {
    auto program = test::silence(20);
    test::addTone(program, 0, 20, 10, 1.0);
    const auto frames = test::cutAll(quickSettings(), program);
    REQUIRE(anyFlag(frames, Flag::limit));
    REQUIRE(anyFlag(frames, Flag::overcut));
    for (const auto& f : programOnly(frames)) {
        REQUIRE(std::isfinite(f.radius_mm));
        REQUIRE(std::isfinite(f.lateralPeak_cm_s));
        if (f.time_s > 1.8) // before that the lead-in is still closing
            REQUIRE(f.pitchCommand_um <= 400 + 1e-9);
    }
}

TEST_CASE("A stroke known a quarter of a turn ahead is called short before it is cut, and overcuts",
          "[cut]") {
    auto program = test::silence(14);
    test::addTone(program, 8, 0.4, 45, 0.6);
    auto settings = quickSettings();
    const auto good = test::cutAll(settings, program);
    REQUIRE_FALSE(anyFlag(good, Flag::overcut));
    REQUIRE_FALSE(anyFlag(good, Flag::previewShort));

    settings.preview_s = 0.45;
    const auto frames = test::cutAll(settings, program);
    const auto firstOf = [&frames](Flag flag) {
        return std::find_if(frames.begin(), frames.end(), [flag](const auto& f) { return f.has(flag); });
    };
    REQUIRE(firstOf(Flag::overcut) != frames.end());
    REQUIRE(firstOf(Flag::previewShort)->time_s < firstOf(Flag::overcut)->time_s);
    REQUIRE(firstOf(Flag::previewShort)->time_s == Approx(8 - 0.45).margin(0.05));
}

TEST_CASE("Invalid settings are refused with every problem", "[cut]") {
    cut::CutSettings settings;
    settings.land_min_um = -1;
    settings.pitch_min_um = 500;
    cut::CutEngine engine;
    try {
        engine.prepare(settings, 44100);
        FAIL("was accepted");
    } catch (const std::invalid_argument& error) {
        const std::string text = error.what();
        REQUIRE(text.find("land_min_um") != std::string::npos);
        REQUIRE(text.find("pitch_min_um") != std::string::npos);
    }
}
