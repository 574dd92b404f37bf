// SPDX-License-Identifier: GPL-3.0-or-later
// The engine driven live: the stylus is lowered, lifted and sent from stage to stage while the program comes in.
#include "Tests/Cut/TestPrograms.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

#include <map>

using namespace headland;
using cut::Cue;
using cut::State;

namespace {

cut::CutSettings settings() {
    cut::CutSettings s;
    s.rpm = 78; // a turn in 0.77 s, so that the tests are short
    s.preview_s = s.turn_s();
    return s;
}

/// What a person does, by sample of the processor's input.
struct Deeds {
    std::multimap<std::int64_t, Cue> cues;
    std::multimap<std::int64_t, plan::Ride> rides;
};

struct Cut {
    std::vector<cut::CutFrame> frames;
    std::vector<double> pitch_um, depth_um;
    std::vector<bool> heeded;
};

/// Runs a program through the live engine, as long as it is, in blocks that are cut at the deeds.
Cut runLive(const cut::CutSettings& set, const test::Program& p, const Deeds& deeds,
            std::size_t block = 512) {
    cut::CutEngine engine;
    engine.prepare(set, p.rate_hz);
    const auto preview = static_cast<std::size_t>(engine.previewSamples());
    std::vector<float> cutLeft(preview, 0.0f), cutRight(preview, 0.0f);
    cutLeft.insert(cutLeft.end(), p.left.begin(), p.left.end());
    cutRight.insert(cutRight.end(), p.right.begin(), p.right.end());
    Cut result;
    result.pitch_um.resize(p.length());
    result.depth_um.resize(p.length());
    test::FrameKeeper keeper;
    auto cue = deeds.cues.begin();
    auto ride = deeds.rides.begin();
    for (std::size_t at = 0; at < p.length();) {
        const auto now = static_cast<std::int64_t>(at);
        auto until = std::min(at + block, p.length());
        for (; cue != deeds.cues.end() && cue->first <= now; ++cue)
            result.heeded.push_back(engine.cue(cue->second, keeper));
        for (; ride != deeds.rides.end() && ride->first <= now; ++ride)
            engine.ride(ride->second);
        if (cue != deeds.cues.end())
            until = std::min(until, static_cast<std::size_t>(cue->first));
        if (ride != deeds.rides.end())
            until = std::min(until, static_cast<std::size_t>(ride->first));
        engine.live({&p.left[at], &p.right[at], &cutLeft[at], &cutRight[at], static_cast<int>(until - at),
                     &result.pitch_um[at], &result.depth_um[at]},
                    keeper);
        at = until;
    }
    result.frames = std::move(keeper.frames);
    return result;
}

/// Silence, the program, silence.
test::Program between(std::size_t before, const test::Program& p, std::size_t after) {
    auto result = p;
    for (auto* channel : {&result.left, &result.right}) {
        channel->insert(channel->begin(), before, 0.0f);
        channel->insert(channel->end(), after, 0.0f);
    }
    return result;
}

std::int64_t samples(double seconds) {
    return std::llround(seconds * 44100);
}

std::size_t count(const std::vector<cut::CutFrame>& frames, State state) {
    return static_cast<std::size_t>(
        std::count_if(frames.begin(), frames.end(), [state](const auto& f) { return f.state == state; }));
}

/// Greatest change of the pitch command from one frame to the next, µm per revolution per second, while in a state.
double fastest_um_s(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& s, State state) {
    auto most = 0.0;
    for (std::size_t i = 1; i < frames.size(); ++i)
        if (frames[i].state == state && frames[i - 1].state == state)
            most = std::max(most, std::abs(frames[i].pitchCommand_um - frames[i - 1].pitchCommand_um));
    return most / (s.turn_s() / s.sectors_per_turn);
}

} // namespace

TEST_CASE("A side driven live has the frames of a side that runs by itself, bit for bit", "[live]") {
    const auto s = settings();
    const auto program = test::randomProgram(11, 6);
    const auto alone = test::cutAll(s, program);
    const auto leadIn =
        samples(std::ceil(s.lead_in_turns * s.sectors_per_turn) / s.sectors_per_turn * s.turn_s());
    const auto whole = between(static_cast<std::size_t>(leadIn), program, 44100 * 20);
    const auto preview = samples(s.preview_s);
    const auto end = leadIn + static_cast<std::int64_t>(program.length()) + preview;
    const auto block = GENERATE(64, 1000, 4096);
    const auto live =
        runLive(s, whole, {{{0, Cue::leadIn}, {end, Cue::leadOut}}, {}}, static_cast<std::size_t>(block));
    CHECK(live.heeded == std::vector{true, true});
    REQUIRE(count(alone, State::finishing) > 0);
    CHECK(test::sameBits(live.frames, alone));
}

TEST_CASE("Live frames are the same bits for every block size, whatever is done in between", "[live]") {
    const auto s = settings();
    const auto program = test::randomProgram(12, 14);
    const Deeds deeds{{{9000, Cue::leadIn},
                       {samples(4.0005), Cue::band},
                       {samples(6.3), Cue::lift},
                       {samples(6.9), Cue::leadIn},
                       {samples(7.4), Cue::program},
                       {samples(11), Cue::finishing}},
                      {{samples(2), {5, 0}}, {samples(3.3), {0, 10}}, {samples(9), {20, 3}}}};
    const auto reference = runLive(s, program, deeds, 4096);
    CHECK(std::count(reference.heeded.begin(), reference.heeded.end(), true) == 6);
    for (const std::size_t block : {1u, 64u, 333u, 8192u})
        CHECK(test::sameBits(runLive(s, program, deeds, block).frames, reference.frames));
}

TEST_CASE("The stylus waits for a whole preview, then goes down at the next boundary", "[live]") {
    const auto s = settings();
    const auto program = test::randomProgram(13, 5);
    const auto preview = samples(s.preview_s);
    const auto sector = s.turn_s() / s.sectors_per_turn * 44100;
    const auto firstDown = [&](std::int64_t at) {
        const auto live = runLive(s, program, {{{at, Cue::leadIn}}, {}});
        const auto down = std::find_if(live.pitch_um.begin(), live.pitch_um.end(),
                                       [](double um) { return !std::isnan(um); });
        return down - live.pitch_um.begin();
    };
    CHECK(firstDown(0) == preview);
    CHECK(firstDown(preview - 1) == preview);
    const auto late = firstDown(preview + 1000);
    CHECK(late >= preview + 1000);
    CHECK(static_cast<double>(late) < static_cast<double>(preview + 1000) + sector + 1);
}

TEST_CASE("A second cut with the same engine knows nothing of the first", "[live]") {
    const auto s = settings();
    const auto program = test::randomProgram(14, 16);
    const auto live =
        runLive(s, program, {{{0, Cue::leadIn}, {samples(6), Cue::lift}, {samples(7), Cue::leadIn}}, {}});
    const auto second = test::secondCut(live.frames);
    REQUIRE(second != live.frames.end());
    const auto turn = static_cast<std::ptrdiff_t>(s.sectors_per_turn);
    REQUIRE(live.frames.end() - second > 4 * turn);
    CHECK(std::all_of(second, second + turn - 1, [](const auto& f) { return std::isnan(f.landMin_um); }));
    CHECK_FALSE(std::isnan((second + turn + 1)->landMin_um));
    const auto demands = [](const auto& f) { return std::isfinite(f.demand_um); };
    CHECK(std::none_of(second, second + turn - 1, demands)); // there is no turn before to keep clear of
    CHECK(std::all_of(second + turn, live.frames.end(), demands));
    CHECK(second->radius_mm > s.start_radius_mm + 1);
    CHECK(second->pitchCommand_um == Approx(s.lead_in_pitch_um));
    CHECK(second->time_s < 0);
    for (auto f = second; f != live.frames.end(); ++f)
        CHECK_FALSE(f->landMin_um < s.land_min_um - cut::planTolerance_um);
}

TEST_CASE("Lifting is at once, and the part of a sector is a frame", "[live]") {
    const auto s = settings();
    const auto program = test::randomProgram(15, 6);
    const auto at = samples(5) + 57;
    const auto live = runLive(s, program, {{{0, Cue::leadIn}, {at, Cue::lift}}, {}});
    const auto atIndex = static_cast<std::size_t>(at);
    CHECK_FALSE(std::isnan(live.pitch_um[atIndex - 1]));
    CHECK(std::all_of(live.pitch_um.begin() + at, live.pitch_um.end(),
                      [](double um) { return std::isnan(um); }));
    CHECK(std::all_of(live.depth_um.begin() + at, live.depth_um.end(),
                      [](double um) { return std::isnan(um); }));
    const auto down = samples(s.preview_s);
    CHECK(live.frames.back().turn
          == Approx(static_cast<double>(at - down) / 44100 / s.turn_s()).margin(1.0 / 44100 / s.turn_s()));
    const auto part = live.frames.back().turn - live.frames[live.frames.size() - 2].turn;
    CHECK(part > 0);
    CHECK(part < 1.0 / s.sectors_per_turn);
}

TEST_CASE("The commands at every sample run through the frames' and never faster than the slew", "[live]") {
    const auto s = settings();
    const auto program = test::randomProgram(16, 8);
    const auto live = runLive(s, program, {{{0, Cue::leadIn}}, {}});
    const auto down = static_cast<double>(samples(s.preview_s));
    REQUIRE(live.frames.size() > 1000);
    for (std::size_t i = 0; i < live.frames.size(); ++i) {
        const auto end = down + static_cast<double>(i + 1) * s.turn_s() * 44100 / s.sectors_per_turn;
        const auto sample = static_cast<std::size_t>(std::floor(end)) - 1;
        if (sample + 1 >= live.pitch_um.size())
            break;
        const auto perSample_um = s.spiral_slew_um_per_rev_s / 44100;
        CHECK(std::abs(live.pitch_um[sample] - live.frames[i].pitchCommand_um) <= 2 * perSample_um);
        CHECK(std::abs(live.depth_um[sample] - live.frames[i].depthCommand_um)
              <= 2 * s.depth_slew_um_s / 44100);
    }
    auto fastest_um = 0.0;
    for (auto i = static_cast<std::size_t>(down) + 1; i < live.pitch_um.size(); ++i)
        fastest_um = std::max(fastest_um, std::abs(live.pitch_um[i] - live.pitch_um[i - 1]));
    CHECK(fastest_um <= s.spiral_slew_um_per_rev_s / 44100 * (1 + 1e-6));
    CHECK(fastest_um > 0);
}

TEST_CASE("Land and depth added during the cut come without a step and without a false alarm", "[live]") {
    const auto s = settings();
    auto program = test::silence(16);
    test::addTone(program, 0, 16, 400, 0.05);
    const auto plain = runLive(s, program, {{{0, Cue::leadIn}}, {}});
    const auto ridden =
        runLive(s, program, {{{0, Cue::leadIn}}, {{samples(6), {15, 0}}, {samples(10), {15, 12}}}});
    REQUIRE(plain.frames.size() == ridden.frames.size());
    const auto frameAt = [&](const Cut& cut, double seconds) -> const cut::CutFrame& {
        return cut
            .frames[static_cast<std::size_t>((seconds - s.preview_s) / s.turn_s() * s.sectors_per_turn)];
    };
    // A preview and a turn after the ride all of it is there.
    const auto settled_s = s.preview_s + 1.5 * s.turn_s();
    CHECK(frameAt(ridden, 6 + settled_s).landMin_um >= frameAt(plain, 6 + settled_s).landMin_um + 14);
    CHECK(frameAt(ridden, 6 + settled_s).depth_um == Approx(s.depth_basic_um).margin(0.01));
    CHECK(frameAt(ridden, 10 + settled_s).depth_um == Approx(s.depth_basic_um + 12).margin(0.1));
    CHECK(frameAt(ridden, 10 + settled_s).landMin_um >= s.land_min_um + 14);
    CHECK(frameAt(ridden, 5.9).pitchCommand_um == frameAt(plain, 5.9).pitchCommand_um);
    CHECK(fastest_um_s(ridden.frames, s, State::program) <= s.pitch_slew_um_per_rev_s * (1 + 1e-9));
    for (const auto& f : ridden.frames) {
        CHECK_FALSE(f.has(cut::Flag::previewShort));
        CHECK_FALSE(f.has(cut::Flag::limit));
    }
}

TEST_CASE("Depth added beyond the greatest goes as far as that and is no fault", "[live]") {
    const auto s = settings();
    const auto live = runLive(s, test::silence(12), {{{0, Cue::leadIn}}, {{samples(5), {0, 1000}}}});
    auto deepest_um = 0.0;
    for (const auto& f : live.frames) {
        deepest_um = std::max(deepest_um, f.depth_um);
        CHECK(f.flags == 0);
    }
    CHECK(deepest_um <= s.depth_max_um);
    CHECK(deepest_um > s.depth_max_um - 2);
}

TEST_CASE("A band opens to its pitch and closes to the program's", "[live]") {
    const auto s = settings();
    const auto program = test::silence(14);
    const auto live = runLive(s, program, {{{0, Cue::leadIn}, {samples(6), Cue::band}}, {}});
    CHECK(live.heeded == std::vector{true, true});
    const auto sectors = count(live.frames, State::band);
    CHECK(sectors >= static_cast<std::size_t>(s.band_turns * s.sectors_per_turn));
    auto widest_um = 0.0;
    auto travel_mm = 0.0;
    for (std::size_t i = 1; i < live.frames.size(); ++i)
        if (live.frames[i].state == State::band) {
            widest_um = std::max(widest_um, live.frames[i].pitch_um);
            travel_mm += live.frames[i - 1].radius_mm - live.frames[i].radius_mm;
        }
    CHECK(widest_um == Approx(s.band_pitch_um).epsilon(0.001));
    CHECK(travel_mm > 0.9 * s.band_pitch_um * s.band_turns / 1000);
    CHECK(live.frames.back().state == State::program);
    CHECK(live.frames.back().pitch_um < 80);
}

TEST_CASE("The lead-in ends when told, and begins anew when told", "[live]") {
    const auto s = settings();
    const auto program = test::silence(10);
    const auto leadInOf = [&](std::multimap<std::int64_t, Cue> cues) {
        return count(runLive(s, program, {std::move(cues), {}}).frames, State::leadIn);
    };
    const auto asSet = leadInOf({{0, Cue::leadIn}});
    CHECK(asSet == static_cast<std::size_t>(s.lead_in_turns * s.sectors_per_turn));
    const auto soon = samples(s.preview_s + 0.2);
    CHECK(leadInOf({{0, Cue::leadIn}, {soon, Cue::program}}) < asSet - 20);
    const auto longer = leadInOf({{0, Cue::leadIn}, {soon, Cue::leadIn}});
    CHECK(longer == Approx(static_cast<double>(asSet) + 0.2 / s.turn_s() * s.sectors_per_turn).margin(1.01));
}

TEST_CASE(
    "The finishing groove can be called from the program: the pitch closes and the stylus lifts by itself",
    "[live]") {
    const auto s = settings();
    const auto program = test::silence(10);
    const auto live = runLive(s, program, {{{0, Cue::leadIn}, {samples(5), Cue::finishing}}, {}});
    REQUIRE(live.frames.back().state == State::finishing);
    CHECK(count(live.frames, State::finishing) == static_cast<std::size_t>(s.sectors_per_turn));
    CHECK(live.frames.back().pitchCommand_um == 0);
    CHECK(std::isnan(live.pitch_um.back()));
}

TEST_CASE("A cue that means nothing now is told so and changes nothing", "[live]") {
    const auto s = settings();
    const auto program = test::randomProgram(17, 5);
    const auto plain = runLive(s, program, {{{0, Cue::leadIn}}, {}});
    const auto told = runLive(s, program,
                              {{{0, Cue::lift},
                                {0, Cue::band},
                                {0, Cue::leadOut},
                                {0, Cue::finishing},
                                {0, Cue::program},
                                {0, Cue::leadIn},
                                {10, Cue::leadIn},
                                {samples(4), Cue::leadIn},
                                {samples(4), Cue::program}},
                               {}});
    CHECK(told.heeded == std::vector{false, false, false, false, false, true, false, false, false});
    CHECK(test::sameBits(told.frames, plain.frames));
    const auto given_up = runLive(s, program, {{{0, Cue::leadIn}, {100, Cue::lift}}, {}});
    CHECK(given_up.heeded == std::vector{true, true});
    CHECK(given_up.frames.empty());
}

TEST_CASE("Live, what is no program is cut as silence and flagged where it is cut", "[live]") {
    const auto s = settings();
    auto program = test::silence(6);
    const auto bad = samples(4);
    program.left[static_cast<std::size_t>(bad)] = std::numeric_limits<float>::quiet_NaN();
    const auto live = runLive(s, program, {{{0, Cue::leadIn}}, {}});
    const auto flagged = std::count_if(live.frames.begin(), live.frames.end(),
                                       [](const auto& f) { return f.has(cut::Flag::badSample); });
    CHECK(flagged == 1);
    for (const auto& f : live.frames) {
        CHECK(std::isfinite(f.widthMin_um));
        CHECK(std::isfinite(f.pitchCommand_um));
    }
}

TEST_CASE("The finishing groove asked for in mid-side is reached through a lead-out that closes at once") {
    const auto p = test::silence(14);
    const auto at = [&](double time_s) { return static_cast<std::int64_t>(time_s * p.rate_hz); };
    const auto cut = runLive(settings(), p, {{{at(1), Cue::leadIn}, {at(8), Cue::finishing}}, {}});
    CHECK(cut.heeded == std::vector<bool>{true, true});
    std::vector<State> order;
    for (const auto& f : cut.frames)
        if (order.empty() || f.state != order.back())
            order.push_back(f.state);
    CHECK(order == std::vector{State::leadIn, State::program, State::leadOut, State::finishing});
    CHECK(cut.frames.back().pitchCommand_um == 0);
}

TEST_CASE("The lead-in has closed to the pitch of silence when the program begins") {
    auto s = settings();
    s.carriage_lag_s = 0;
    for (const auto slew_um :
         {3000.0, 3333.0, 7777.0, 10000.0}) { // most of them take no whole number of sectors
        s.spiral_slew_um_per_rev_s = slew_um;
        const auto frames = test::cutAll(s, test::silence(2));
        const auto first = std::find_if(frames.begin(), frames.end(),
                                        [](const auto& f) { return f.state == State::program; });
        REQUIRE(first != frames.end());
        INFO("slew " << slew_um);
        CHECK((first - 1)->pitchCommand_um == Approx(2 * s.depth_basic_um + s.land_min_um).margin(1e-9));
        CHECK((first - 1)->time_s == Approx(0).margin(1e-4));
    }
}

TEST_CASE("Commands are written to the samples of a block, and to none behind it") {
    const auto s = settings();
    const auto p = test::silence(0.5);
    cut::CutEngine engine;
    engine.prepare(s, p.rate_hz);
    test::FrameKeeper keeper;
    constexpr auto untouched = 12345.0;
    for (const auto cue : {Cue::lift, Cue::leadIn}) {
        engine.cue(cue, keeper);
        for (const std::size_t block : {1u, 7u, 511u, 512u, 4096u}) {
            std::vector<double> pitch_um(block + 4, untouched), depth_um(block + 4, untouched);
            engine.live({p.left.data(), p.right.data(), p.left.data(), p.right.data(),
                         static_cast<int>(block), pitch_um.data(), depth_um.data()},
                        keeper);
            for (const auto* commands : {&pitch_um, &depth_um}) {
                CHECK(std::count(commands->begin(), commands->begin() + static_cast<long>(block), untouched)
                      == 0);
                CHECK(std::count(commands->begin() + static_cast<long>(block), commands->end(), untouched)
                      == 4);
            }
        }
    }
}
