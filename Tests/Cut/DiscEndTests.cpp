// SPDX-License-Identifier: GPL-3.0-or-later
// Where the disc ends: nothing is cut inside the finishing radius, whatever the program, the cues or the lathe do, and the
// side gets its lead-out or is lifted by itself.
#include "Cut/CutEngine.h"
#include "Cut/CutSummary.h"
#include "Cut/LeadOutTravel.h"
#include "Tests/Cut/TestPrograms.h"

#include <catch2/catch.hpp>

#include <random>

using namespace headland;
using cut::Cue;
using cut::Flag;
using cut::State;

namespace {

/// A side that begins close to the disc's end, and a program that goes far beyond it.
cut::CutSettings nearTheEnd() {
    cut::CutSettings s;
    s.start_radius_mm = 62;
    s.side_length_s = 240;
    return s;
}

double leastRadius_mm(const std::vector<cut::CutFrame>& frames) {
    return std::min_element(frames.begin(), frames.end(),
                            [](const auto& a, const auto& b) { return a.radius_mm < b.radius_mm; })
        ->radius_mm;
}

std::vector<State> orderOf(const std::vector<cut::CutFrame>& frames) {
    std::vector<State> order;
    for (const auto& f : frames)
        if (order.empty() || f.state != order.back())
            order.push_back(f.state);
    return order;
}

const cut::CutFrame& lastOf(const std::vector<cut::CutFrame>& frames, State state) {
    return *std::find_if(frames.rbegin(), frames.rend(), [=](const auto& f) { return f.state == state; });
}

std::size_t flagged(const std::vector<cut::CutFrame>& frames, Flag flag) {
    return static_cast<std::size_t>(
        std::count_if(frames.begin(), frames.end(), [=](const auto& f) { return f.has(flag); }));
}

cut::CutSummary summaryOf(const cut::CutSettings& settings, const std::vector<cut::CutFrame>& frames) {
    cut::SummaryBuilder builder(settings);
    for (const auto& f : frames)
        builder.frame(f);
    return builder.summary();
}

} // namespace

TEST_CASE("The stop radius is one turn of the finest lead-out outside the finishing groove", "[disc end]") {
    // By hand: from 400 µm to 3200 µm (6.4 − 3.2 mm, IEC 60098:1987, 8.8, second-hand) at 10 mm/rev/s takes 0.28 s at 1800 µm in
    // the mean, the way down 0.32 s at 1600 µm, the rest of the 1.8 s is at 3200 µm; the lag of 0.05 s adds what the carriage
    // is behind at its beginning, 400 µm · 0.05 s.
    const auto byHand_um = (0.28 * 1800 + 0.32 * 1600 + 1.2 * 3200 + 0.05 * 400) / 1.8;
    CHECK(cut::leadOutTravel_mm({}) == Approx(byHand_um / 1000).margin(0.03));
    CHECK(cut::CutSettings{}.stopRadius_mm() == Approx(55.9).margin(0.05));
}

TEST_CASE("A side too long leads out by itself and ends in its finishing groove", "[disc end]") {
    const auto settings = nearTheEnd();
    const auto frames = test::cutAll(settings, test::randomProgram(3, 240));
    CHECK(orderOf(frames) == std::vector{State::leadIn, State::program, State::leadOut, State::finishing});
    CHECK(leastRadius_mm(frames) >= settings.finishing_radius_mm - 0.02);
    CHECK(frames.back().radius_mm
          == Approx(53.2).margin(0.4)); // IEC 60098:1987, 8.9 (second-hand): 106.4 ± 0.8 mm
    const auto& last = lastOf(frames, State::program);
    CHECK(last.has(Flag::discEnd));
    CHECK(flagged(frames, Flag::discEnd) == 1);
    CHECK(last.radius_mm == Approx(settings.stopRadius_mm()).margin(0.02));
    CHECK(last.radius_mm >= settings.stopRadius_mm());
    // At least one turn of lead-out, nowhere finer than the standard's once it is open (IEC 60098:1987, 8.8, second-hand).
    auto leadOutSectors = 0;
    auto widest_um = 0.0;
    for (const auto& f : frames)
        if (f.state == State::leadOut) {
            ++leadOutSectors;
            widest_um = std::max(widest_um, f.pitch_um);
        }
    CHECK(leadOutSectors >= settings.sectors_per_turn - 1);
    CHECK(widest_um >= 3200 * 0.99);
    for (const auto& f : frames)
        if (f.state == State::program)
            REQUIRE(f.has(Flag::pastEnd) == (f.radius_mm < settings.end_radius_mm));
}

TEST_CASE("The side says where the disc ended and by how much it is too long", "[disc end]") {
    const auto settings = nearTheEnd();
    const auto summary = summaryOf(settings, test::cutAll(settings, test::silence(240)));
    CHECK(summary.verdict() == cut::Verdict::cannotBeCut);
    CHECK_FALSE(summary.fits);
    REQUIRE(summary.discEnd.valid);
    CHECK(summary.discEnd.value == Approx(settings.stopRadius_mm()).margin(0.02));
    CHECK(summary.sideLength_s == 240);
    // Silence takes 62 µm a turn: two half-widths and the land; so all of the side would take 133 turns of them.
    const auto needed_mm = 240 / 1.8 * 0.062;
    CHECK(summary.room_mm(settings) == Approx(62 - needed_mm - 60.325).margin(0.1));
    CHECK(summary.verdictLine().find("the disc ended at 111.8 mm diameter") != std::string::npos);
    auto unknown = settings;
    unknown.side_length_s = 0;
    const auto blind = summaryOf(unknown, test::cutAll(unknown, test::silence(240)));
    CHECK(blind.notCut_mm == 0);
    CHECK(blind.sideLength_s == Approx(summary.discEnd.time_s));
    CHECK(blind.verdict() == cut::Verdict::cannotBeCut);
}

TEST_CASE("A program that ends where the disc would is led out without a word", "[disc end]") {
    auto settings = nearTheEnd();
    const auto whole = test::cutAll(settings, test::silence(240));
    const auto last_s = lastOf(whole, State::program).time_s;
    const auto frames = test::cutAll(settings, test::silence(last_s - 0.01));
    CHECK(flagged(frames, Flag::discEnd) == 0);
    CHECK(frames.back().state == State::finishing);
    CHECK_FALSE(summaryOf(settings, frames).discEnd.valid);
}

TEST_CASE("Set so, the stylus is lifted where the disc ends", "[disc end]") {
    auto settings = nearTheEnd();
    settings.disc_end = 1;
    const auto frames = test::cutAll(settings, test::randomProgram(3, 240));
    CHECK(orderOf(frames) == std::vector{State::leadIn, State::program});
    CHECK(frames.back().has(Flag::discEnd));
    CHECK(frames.back().radius_mm == Approx(settings.stopRadius_mm()).margin(0.02));
}

TEST_CASE("Live the disc ends too, and the control signals then rest", "[disc end]") {
    auto settings = nearTheEnd();
    settings.disc_end = GENERATE(0, 1);
    const auto program = test::randomProgram(9, 240);
    cut::CutEngine engine;
    engine.prepare(settings, program.rate_hz);
    test::FrameKeeper keeper;
    std::vector<double> pitch_um(program.length()), depth_um(program.length());
    auto heeded = false;
    for (std::size_t at = 0, block = 441; at + block <= program.length(); at += block) {
        engine.live({&program.left[at], &program.right[at], &program.left[at], &program.right[at], 441,
                     &pitch_um[at], &depth_um[at]},
                    keeper);
        if (!heeded && engine.previewIsFull())
            heeded = engine.cue(Cue::leadIn, keeper);
    }
    CHECK(engine.state() == State::up);
    CHECK(leastRadius_mm(keeper.frames) >= settings.finishing_radius_mm - 0.02);
    CHECK(keeper.frames.back().state == (settings.disc_end == 1 ? State::program : State::finishing));
    CHECK(flagged(keeper.frames, Flag::discEnd) == 1);
    CHECK(std::isnan(pitch_um[program.length() - 1000]));
    CHECK(std::isnan(depth_um[program.length() - 1000]));
}

TEST_CASE("However often a lead-in or a band is asked for, the disc ends", "[disc end]") {
    const auto again = GENERATE(Cue::leadIn, Cue::band);
    auto settings = nearTheEnd();
    settings.start_radius_mm = 70;
    if (GENERATE(false,
                 true)) { // so coarse and so slow that closing takes more of the disc than a turn of lead-out
        settings.lead_in_pitch_um = settings.band_pitch_um = 4500;
        settings.spiral_slew_um_per_rev_s = 1500;
        settings.lead_in_turns = settings.band_turns = 3;
    }
    cut::CutEngine engine;
    const auto silence = test::silence(0.25);
    engine.prepare(settings, silence.rate_hz);
    test::FrameKeeper keeper;
    for (int i = 0; i < 400; ++i) {
        engine.cue(again == Cue::band && engine.state() == State::leadIn  ? Cue::program
                   : engine.state() == State::up && keeper.frames.empty() ? Cue::leadIn
                                                                          : again,
                   keeper);
        engine.live({silence.left.data(), silence.right.data(), silence.left.data(), silence.right.data(),
                     static_cast<int>(silence.length()), nullptr, nullptr},
                    keeper);
    }
    REQUIRE_FALSE(keeper.frames.empty());
    CHECK(leastRadius_mm(keeper.frames) >= settings.finishing_radius_mm - 0.05);
    CHECK(flagged(keeper.frames, Flag::discEnd) >= 1);
}

TEST_CASE("A lathe that does not close as told is lifted outside the format's tolerance", "[disc end]") {
    auto settings = nearTheEnd();
    cut::LatheTruth truth;
    truth.slewFactor = 0.05;
    cut::CutEngine engine;
    const auto program = test::silence(240);
    engine.prepare(settings, program.rate_hz, truth);
    test::FrameKeeper keeper;
    engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()), keeper);
    engine.finish(keeper);
    const auto sector_mm = 6.4 / settings.sectors_per_turn; // the coarsest a lead-out is
    CHECK(leastRadius_mm(keeper.frames) >= settings.finishing_radius_mm - 0.4 - sector_mm);
}

TEST_CASE("Whatever the set-up, nothing is cut inside the finishing radius", "[disc end]") {
    std::mt19937 random(20);
    const auto between = [&](double least, double greatest) {
        return least * std::pow(greatest / least, std::uniform_real_distribution<>(0, 1)(random));
    };
    auto tried = 0;
    for (int i = 0; i < 400 && tried < 40; ++i) {
        cut::CutSettings s;
        s.applyFormat(std::uniform_int_distribution<>(0, 4)(random));
        s.rpm = between(15, 90);
        s.preview_s = s.turn_s();
        s.start_radius_mm = s.end_radius_mm + between(0.2, 3);
        s.pitch_min_um = between(20, 1000);
        s.pitch_max_um = between(s.pitch_min_um, 3000);
        s.pitch_slew_um_per_rev_s = between(10, 20000);
        s.carriage_lag_s = std::uniform_real_distribution<>(0, 1)(random);
        s.spiral_slew_um_per_rev_s = between(500, 200000);
        s.lead_out_pitch_um = between(500, 20000);
        s.lead_out_turns = between(1, 10);
        s.lead_in_pitch_um = between(200, 5000);
        s.sectors_per_turn = static_cast<int>(between(64, 800));
        if (!cut::validate(s, 44100).empty())
            continue;
        ++tried;
        INFO("set-up " << i);
        const auto frames = test::cutAll(s, test::silence(60));
        REQUIRE(leastRadius_mm(frames) >= s.finishing_radius_mm - 0.05);
        REQUIRE(leastRadius_mm(frames) > 0);
    }
    REQUIRE(tried == 40);
}

TEST_CASE("An end radius that leaves no room for the lead-out is refused", "[disc end]") {
    cut::CutSettings s;
    s.end_radius_mm = 57.5; // DIN 45547:1981 (second-hand)
    CHECK(cut::validate(s, 44100).empty());
    s.finishing_radius_mm = 55;
    const auto problems = cut::validate(s, 44100);
    REQUIRE(problems.size() == 1);
    CHECK(problems.front().find("no room for a turn of lead-out") != std::string::npos);
}

TEST_CASE("A groove deeper than the lacquer is flagged and spoils the side", "[disc end]") {
    // A vertical tone: the depth goes from h − √2·d to h + √2·d. 5 cm/s at 50 Hz: d = 22.62 µm (groove model, check values).
    cut::CutSettings s;
    auto program = test::silence(8);
    test::addTone(program, 1, 6, 50, std::pow(10, -18.0 / 20), 1, -1);
    const auto frames = test::cutAll(s, program);
    // Settled: the tone's beginning goes deeper.
    const auto at = [&](double time_s) {
        return std::find_if(frames.begin(), frames.end(), [=](const auto& f) { return f.time_s > time_s; });
    };
    const auto deepest = std::max_element(
        at(4), at(6), [](const auto& a, const auto& b) { return a.depthPeak_um < b.depthPeak_um; });
    CHECK(deepest->depthPeak_um == Approx(deepest->depth_um + std::sqrt(2.0) * 22.62).margin(0.3));
    CHECK(flagged(frames, Flag::tooDeep) == 0);
    s.depth_peak_max_um = deepest->depthPeak_um - 0.5;
    s.depth_max_um = 55;
    const auto again = test::cutAll(s, program);
    CHECK(flagged(again, Flag::tooDeep) > 10);
    for (const auto& f : again)
        REQUIRE(f.has(Flag::tooDeep) == (f.depthPeak_um > s.depth_peak_max_um));
    const auto summary = summaryOf(s, again);
    CHECK(summary.verdict() == cut::Verdict::cannotBeCut);
    CHECK(summary.verdictLine().find("the groove is too deep, ") != std::string::npos);
    CHECK(summary.worstOf(Flag::tooDeep).value == Approx(summary.depthGreatestWithProgram.value));
}
