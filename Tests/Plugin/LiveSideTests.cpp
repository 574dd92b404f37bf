// SPDX-License-Identifier: GPL-3.0-or-later
// A side through the processor: the frames of the command-line tool's engine, the program's way through, and what ends a
// cut.
#include "Tests/Plugin/HostRig.h"
#include "Tests/Support/SameFrames.h"

#include <limits>

using namespace headland;
using cut::Cue;
using cut::State;
using handoff::CutEnd;
using plugin::Processor;

namespace {

std::int64_t samples(double seconds, double rate_hz = 44100) {
    return std::llround(seconds * rate_hz);
}

/// A whole side on the host's time line: lead-in's silence, the program, silence to the end.
test::Take sideOf(const cut::CutSettings& s, const test::Program& program) {
    test::Take take;
    take.program = program;
    const auto leadIn = static_cast<std::size_t>(std::ceil(
        std::ceil(s.lead_in_turns * s.sectors_per_turn) / s.sectors_per_turn * s.turn_s() * program.rate_hz));
    for (auto* channel : {&take.program.left, &take.program.right}) {
        channel->insert(channel->begin(), leadIn, 0.0f);
        channel->insert(channel->end(), static_cast<std::size_t>(20 * program.rate_hz), 0.0f);
    }
    const auto end =
        static_cast<std::int64_t>(leadIn + program.length()) + samples(s.preview_s, program.rate_hz);
    take.cues = {{0, Cue::leadIn}, {end, Cue::leadOut}};
    return take;
}

struct Run {
    test::Played played;
    test::Kept kept;
};

Run runTake(const test::Take& take, const cut::CutSettings& s, const plugin::LiveSettings& live = {}) {
    Run run;
    Processor processor;
    test::setUp(processor, s, live);
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(run.kept));
    run.played = test::play(processor, take);
    processor.service().setJournal(nullptr);
    return run;
}

} // namespace

TEST_CASE("A side through the processor has the frames of the command-line tool's engine, bit for bit",
          "[live-side]") {
    const auto s = test::quickSide();
    const auto program = test::randomProgram(31, 6);
    const auto expected = test::cutAll(s, program);
    auto take = sideOf(s, program);
    for (const auto& blocks : {std::vector{64}, std::vector{1, 7, 8192, 333}, std::vector{4096}}) {
        take.blocks = blocks;
        const auto run = runTake(take, s);
        CHECK(run.kept.ends == std::vector{CutEnd::finished});
        REQUIRE(run.kept.lengths == std::vector{static_cast<std::int64_t>(expected.size())});
        for (std::size_t i = 0; i < run.kept.numbers.size(); ++i)
            REQUIRE(run.kept.numbers[i] == static_cast<std::int64_t>(i));
        CHECK(test::sameBits(run.kept.frames, expected));
    }
}

TEST_CASE("A second head's preview gives the same frames, and the program goes through untouched",
          "[live-side]") {
    const auto s = test::quickSide();
    const auto program = test::randomProgram(32, 6);
    const auto expected = test::cutAll(s, program);
    auto take = sideOf(s, program);
    // The far head hears the tape a preview before the program head.
    take.preview = take.program;
    const auto ahead = static_cast<std::size_t>(samples(s.preview_s));
    for (auto* channel : {&take.program.left, &take.program.right}) {
        channel->insert(channel->begin(), ahead, 0.0f);
        channel->resize(take.preview.length());
    }
    take.blocks = {64, 1000};
    const auto run = runTake(take, s);
    CHECK(test::sameBits(run.kept.frames, expected));
    CHECK(run.played.latency == 0);
    CHECK(run.played.left == take.program.left);
    CHECK(run.played.right == take.program.right);
}

TEST_CASE("Where the preview comes from can be said, whatever the host has switched on", "[live-side]") {
    const auto s = test::quickSide();
    test::Take take;
    take.program = test::randomProgram(42, 3);
    plugin::LiveSettings live;
    live.preview_from = 1;
    take.preview = take.program;
    const auto own = runTake(take, s, live);
    CHECK(own.played.latency == samples(s.preview_s));
    CHECK(std::equal(own.played.left.begin() + own.played.latency, own.played.left.end(),
                     take.program.left.begin()));
    live.preview_from = 2;
    CHECK(runTake(take, s, live).played.latency == 0);
    take.preview = {};
    CHECK(runTake(take, s, live).played.latency == samples(s.preview_s)); // there is no second head
}

TEST_CASE(
    "Without a second head the output is the input, later by exactly the latency reported, at every rate",
    "[live-side]") {
    for (const auto rate_hz : {44100.0, 48000.0, 88200.0, 96000.0, 176400.0, 192000.0})
        for (const auto preview_s : {0.77, 1.3}) {
            auto s = test::quickSide();
            s.preview_s = preview_s;
            test::Take take;
            take.program = test::randomProgram(33, 3, rate_hz);
            take.blocks = {512, 1, 8192};
            const auto run = runTake(take, s);
            INFO(rate_hz << " Hz");
            REQUIRE(run.played.latency == samples(preview_s, rate_hz));
            const auto later = static_cast<std::size_t>(run.played.latency);
            const auto same = [&](const std::vector<float>& in, const std::vector<float>& out) {
                return std::all_of(out.begin(), out.begin() + run.played.latency,
                                   [](float x) { return x == 0; })
                       && std::equal(out.begin() + run.played.latency, out.end(), in.begin())
                       && in.size() == out.size() && later < in.size();
            };
            CHECK(same(take.program.left, run.played.left));
            CHECK(same(take.program.right, run.played.right));
        }
}

TEST_CASE("A mono program is cut as the same in both channels", "[live-side]") {
    const auto s = test::quickSide();
    auto program = test::randomProgram(34, 5);
    program.right = program.left;
    const auto expected = test::cutAll(s, program);
    auto take = sideOf(s, program);
    take.mono = true;
    const auto run = runTake(take, s);
    CHECK(test::sameBits(run.kept.frames, expected));
    CHECK(run.played.right.empty());
    take.preview = take.program;
    CHECK(runTake(take, s).played.left == take.program.left);
}

TEST_CASE("A trim is heard and cut alike, a preview later, and not at all with a second head",
          "[live-side]") {
    const auto s = test::quickSide();
    test::Take take;
    take.program = test::silence(4);
    test::addTone(take.program, 0, 4, 300, 0.25);
    plugin::LiveSettings live;
    live.level_trim_db = -6.0206;
    const auto plain = runTake(take, s);
    const auto trimmed = runTake(take, s, live);
    REQUIRE(plain.played.left.size() == trimmed.played.left.size());
    for (auto i = plain.played.left.size() - 40000; i < plain.played.left.size(); ++i)
        REQUIRE(trimmed.played.left[i] == Approx(plain.played.left[i] / 2).margin(1e-6));
    take.preview = take.program;
    CHECK(runTake(take, s, live).played.left == take.program.left);
}

TEST_CASE("What is no program comes out finite, and nothing else is touched", "[live-side]") {
    const auto s = test::quickSide();
    const auto bad = {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(),
                      -std::numeric_limits<float>::infinity(), 1e30f, -1e30f};
    for (const auto outside : {false, true}) {
        test::Take take;
        take.program = test::randomProgram(35, 4);
        for (std::size_t i = 0; i < take.program.length(); i += 97)
            take.program.left[i] = *(bad.begin() + static_cast<int>(i / 97 % bad.size()));
        for (std::size_t i = 5; i < take.program.length(); i += 7)
            take.program.right[i] = 1e-42f; // a denormal
        if (outside)
            take.preview = take.program;
        take.cues = {{0, Cue::leadIn}};
        const auto run = runTake(take, s);
        REQUIRE(run.kept.frames.size() > 100);
        for (const auto* out : {&run.played.left, &run.played.right, &run.played.pitch, &run.played.depth})
            CHECK(std::all_of(out->begin(), out->end(),
                              [](float x) { return std::isfinite(x) && std::abs(x) <= 1; }));
        const auto later = outside ? 0u : static_cast<std::size_t>(run.played.latency);
        CHECK(std::equal(run.played.right.begin() + static_cast<std::ptrdiff_t>(later),
                         run.played.right.end(), take.program.right.begin()));
        for (const auto& f : run.kept.frames) {
            CHECK(std::isfinite(f.pitchCommand_um));
            CHECK(std::isfinite(f.widthMin_um));
            CHECK(f.pitchCommand_um <= s.lead_in_pitch_um);
        }
        CHECK(std::any_of(run.kept.frames.begin(), run.kept.frames.end(),
                          [](const auto& f) { return f.has(cut::Flag::badSample); }));
    }
}

TEST_CASE("The control output is the commands, scaled, and at rest while the stylus is up", "[live-side]") {
    auto s = test::quickSide();
    plugin::LiveSettings live;
    live.control_pitch_full_scale_um = 8000;
    live.control_pitch_zero = 0.1;
    live.control_pitch_inverted = 1;
    live.control_depth_full_scale_um = 160;
    live.control_depth_zero = -0.25;
    test::Take take;
    take.program = test::randomProgram(36, 9);
    const auto lower = samples(1.5), lift = samples(7);
    take.cues = {{lower, Cue::leadIn}, {lift, Cue::lift}};
    const auto run = runTake(take, s, live);
    const auto& frames = run.kept.frames;
    const auto& [left, right, pitches, depths, latency] = run.played;
    const auto &pitch = pitches, &depth = depths; // a lambda may not take what was bound
    const auto at = [](std::int64_t sample) { return static_cast<std::size_t>(sample); };
    CHECK(run.kept.ends == std::vector{CutEnd::lifted});

    const auto atRest = [&](std::int64_t from, std::int64_t to) {
        return std::all_of(pitch.begin() + from, pitch.begin() + to, [](float x) { return x == 0.1f; })
               && std::all_of(depth.begin() + from, depth.begin() + to, [](float x) { return x == -0.25f; });
    };
    CHECK(atRest(0, lower));
    CHECK(atRest(lift, static_cast<std::int64_t>(pitch.size())));
    CHECK_FALSE(atRest(lower, lift));

    // The last frame's commands are what the signals said when the stylus came up.
    CHECK(pitch[at(lift) - 1] == Approx(0.1 - frames.back().pitchCommand_um / 8000).margin(1e-3));
    CHECK(depth[at(lift) - 1] == Approx(-0.25 + frames.back().depthCommand_um / 160).margin(1e-2));
    // The run-up ends at lead-in pitch and basic depth before the stylus is down, and no sample jumps on the way.
    const auto runUp_s = s.lead_in_pitch_um / s.spiral_slew_um_per_rev_s + 4 * s.carriage_lag_s;
    const auto down = lower + samples(runUp_s);
    CHECK(pitch[at(down)] == Approx(0.1 - s.lead_in_pitch_um / 8000).margin(1e-6));
    CHECK(depth[at(down)] == Approx(-0.25 + s.depth_basic_um / 160).margin(1e-6));
    auto steepest = 0.0;
    for (auto i = at(lower); i + 1 < at(lift); ++i)
        steepest = std::max(steepest, std::abs(static_cast<double>(pitch[i + 1]) - pitch[i]));
    CHECK(steepest <= s.spiral_slew_um_per_rev_s / 44100 / 8000 * 1.01);
    CHECK(steepest > 0);
}

TEST_CASE("A new rate with the stylus down ends the cut as a fault, and the next one can be cut",
          "[live-side]") {
    const auto s = test::quickSide();
    test::Kept kept;
    Processor processor;
    test::setUp(processor, s);
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
    test::Take take;
    take.program = test::randomProgram(37, 4);
    take.cues = {{0, Cue::leadIn}};
    test::play(processor, take);
    CHECK(kept.ends.empty());
    const auto frames = kept.frames.size();
    REQUIRE(frames > 500);
    take.program = test::randomProgram(37, 4, 96000);
    test::play(processor, take);
    CHECK(kept.ends == std::vector{CutEnd::rateChanged});
    CHECK(kept.begun.size() == 2);
    CHECK(kept.begun.back().sampleRate_hz == 96000);
    CHECK(processor.service().report().status.lastEnd == CutEnd::rateChanged);
    // The same rate again, as after a suspend: ended as well, for another reason.
    take.cues.clear();
    test::play(processor, take);
    CHECK(kept.ends == std::vector{CutEnd::rateChanged, CutEnd::stopped});
    processor.service().setJournal(nullptr);
}

TEST_CASE("Bypassed, the stylus is up, the control output at rest and the program goes on without a gap",
          "[live-side]") {
    const auto s = test::quickSide();
    test::Kept kept;
    Processor processor;
    plugin::LiveSettings live;
    live.control_pitch_zero = 0.05;
    test::setUp(processor, s, live);
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
    test::Take take;
    take.program = test::randomProgram(38, 4);
    take.cues = {{0, Cue::leadIn}};
    test::play(processor, take);
    const auto program = test::randomProgram(38, 4);
    juce::AudioBuffer<float> audio(4, 512);
    juce::MidiBuffer midi;
    audio.clear();
    std::copy_n(program.left.begin(), 512, audio.getWritePointer(0));
    processor.processBlockBypassed(audio, midi);
    for (int i = 0; i < 512; ++i) {
        REQUIRE(audio.getSample(2, i) == 0.05f);
        REQUIRE(audio.getSample(3, i) == 0.0f);
        const auto at = program.left.size() - static_cast<std::size_t>(processor.getLatencySamples())
                        + static_cast<std::size_t>(i);
        REQUIRE(audio.getSample(0, i) == program.left[at]);
    }
    processor.service().step();
    CHECK(kept.ends == std::vector{CutEnd::bypassed});
    processor.service().setJournal(nullptr);
}

TEST_CASE("The set-up is frozen while the stylus is down, what is ridden is not", "[live-side]") {
    const auto s = test::quickSide();
    test::Take take;
    take.program = test::randomProgram(39, 12);
    take.cues = {{0, Cue::leadIn}, {samples(9), Cue::lift}, {samples(11), Cue::leadIn}};
    auto waited = false, waitsStill = true;
    take.deeds = {{samples(5),
                   [](Processor& p) {
                       auto state = p.state();
                       state.cut.land_min_um = 40;
                       p.setState(state);
                   }},
                  {samples(6),
                   [&](Processor& p) {
                       p.service().step();
                       waited = p.service().report().changesWait;
                   }},
                  {samples(9.5), [&](Processor& p) {
                       p.service().step();
                       waitsStill = p.service().report().changesWait;
                   }}};
    const auto run = runTake(take, s);
    CHECK(waited);
    CHECK_FALSE(waitsStill);
    REQUIRE(run.kept.begun.size() == 2);
    CHECK(run.kept.begun[0].cut.land_min_um == s.land_min_um);
    CHECK(run.kept.begun[1].cut.land_min_um == 40);
    auto unchanged = take;
    unchanged.deeds.clear();
    const auto reference = runTake(unchanged, s);
    const auto first = [](const Run& r) {
        return std::vector(r.kept.frames.begin(), test::secondCut(r.kept.frames));
    };
    REQUIRE(first(run).size() > 2000);
    CHECK(test::sameBits(first(run), first(reference)));

    auto ridden = take;
    ridden.deeds = {{samples(5), [](Processor& p) {
                         auto state = p.state();
                         state.live.land_add_um = 25;
                         p.setState(state);
                     }}};
    const auto wider = first(runTake(ridden, s));
    REQUIRE(wider.size() == first(reference).size());
    CHECK(wider.back().radius_mm < first(reference).back().radius_mm - 0.02);
}

TEST_CASE("A set-up that cannot be cut keeps the stylus up and says why, and the program goes through",
          "[live-side]") {
    auto s = test::quickSide();
    s.pitch_max_um = 55; // cannot space silence
    test::Take take;
    take.program = test::randomProgram(40, 4);
    take.cues = {{0, Cue::leadIn}};
    Processor processor;
    test::setUp(processor, s);
    const auto played = test::play(processor, take);
    const auto report = processor.service().report();
    REQUIRE(report.problems.size() == 1);
    CHECK(report.problems[0].find("pitch_max_um") != std::string::npos);
    CHECK(report.status.cuts == 0);
    CHECK(report.status.unheededCues == 1);
    CHECK(report.status.lastUnheeded == Cue::leadIn);
    CHECK(std::equal(played.left.begin() + played.latency, played.left.end(), take.program.left.begin()));

    auto state = processor.state();
    state.cut.pitch_max_um = 400;
    state.live.control_pitch_full_scale_um = 1000; // does not reach the lead-in
    processor.setState(state);
    processor.service().step();
    REQUIRE(processor.service().report().problems.size() == 1);
    CHECK(processor.service().report().problems[0].find("control_pitch_full_scale_um") != std::string::npos);
}

TEST_CASE("The set-up changes with the stylus up without a gap in the program", "[live-side]") {
    const auto s = test::quickSide();
    test::Take take;
    take.program = test::randomProgram(41, 5);
    take.deeds = {{samples(2.5), [](Processor& p) {
                       auto state = p.state();
                       state.cut.land_min_um = 20;
                       p.setState(state);
                       p.service().step();
                   }}};
    const auto run = runTake(take, s);
    CHECK(std::equal(run.played.left.begin() + run.played.latency, run.played.left.end(),
                     take.program.left.begin()));
}

TEST_CASE("The cue's parameter is heeded when it changes, and not where it happens to stand at the start",
          "[live-side]") {
    Processor processor;
    test::setUp(processor, test::quickSide());
    const auto setCue = [](Processor& p, int choice) {
        auto* cue = p.getParameters()[0];
        REQUIRE(cue->getName(10) == "Cue");
        cue->setValueNotifyingHost(static_cast<float>(choice) / cut::cueCount);
    };
    const auto lower = 1 + static_cast<int>(Cue::leadIn), lift = 1 + static_cast<int>(Cue::lift);
    auto standing = State::leadIn, down = State::up, lifted = State::program;
    const auto look = [](State& to) {
        return [&to](Processor& p) {
            p.service().step();
            to = p.service().report().status.state;
        };
    };
    test::Take take;
    take.program = test::randomProgram(43, 12);
    take.deeds = {{samples(3), look(standing)},
                  {samples(3.1), [&](Processor& p) { setCue(p, 0); }},
                  {samples(3.2), [&](Processor& p) { setCue(p, lower); }},
                  {samples(5), look(down)},
                  {samples(5.1), [&](Processor& p) { setCue(p, lift); }},
                  {samples(6), look(lifted)}};
    setCue(processor, lower);
    test::play(processor, take);
    CHECK(standing == State::up);
    CHECK(down == State::program);
    CHECK(lifted == State::up);
    CHECK(processor.service().report().status.cuts == 1);
}

TEST_CASE("A mark by MIDI has the time of the stylus, exact to a sector", "[live-side]") {
    const auto s = test::quickSide();
    test::Take take;
    take.program = test::randomProgram(45, 8);
    take.cues = {{0, Cue::leadIn}, {samples(7), Cue::lift}};
    take.marks = {samples(0.2), samples(4.4444), samples(5), samples(7.5)};
    take.blocks = {8192};
    Processor processor;
    test::Kept kept;
    test::setUp(processor, s);
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
    test::play(processor, take);
    CHECK(processor.service().report().status.unheededMarks == 2); // before and after the cut
    processor.service().setJournal(nullptr);
    std::vector<handoff::CutEvent> marks;
    std::copy_if(kept.events.begin(), kept.events.end(), std::back_inserter(marks),
                 [](const auto& event) { return event.kind == handoff::CutEvent::Kind::mark; });
    REQUIRE(marks.size() == 2);
    // Lifted at a known sample, the last frame ends there or less than a sector before.
    const auto sector_s = s.sector_s();
    const auto lift_s = kept.frames.back().time_s;
    for (std::size_t i = 0; i < 2; ++i) {
        const auto sample = take.marks[i + 1];
        const auto expected_s = lift_s - static_cast<double>(samples(7) - sample) / 44100;
        CHECK(marks[i].frame.time_s == Approx(expected_s).margin(sector_s));
        CHECK(marks[i].frame.time_s == kept.frames[static_cast<std::size_t>(marks[i].number) - 1].time_s);
    }
    CHECK(marks[1].frame.time_s - marks[0].frame.time_s == Approx(5 - 4.4444).margin(sector_s));
}

TEST_CASE("Edges reach the journal before their frame, those of a cut put together are the offline engine's",
          "[live-side]") {
    struct Edges final : cut::FrameSink {
        void frame(const cut::CutFrame&) noexcept override { atFrames.push_back(points.size()); }
        bool wantsEdges() const noexcept override { return true; }
        void edges(const cut::EdgeRun& run) noexcept override {
            points.insert(points.end(), run.points.begin(), run.points.end());
        }
        std::vector<cut::EdgePoint> points;
        std::vector<std::size_t> atFrames;
    };
    const auto s = test::quickSide();
    const auto program = test::randomProgram(46, 5);
    Edges expected;
    cut::CutEngine engine;
    engine.prepare(s, program.rate_hz);
    engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()), expected);
    engine.finish(expected);
    auto take = sideOf(s, program);
    take.blocks = {4096, 64};
    test::Kept kept;
    Processor processor;
    test::setUp(processor, s);
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept, true));
    test::play(processor, take);
    processor.service().setJournal(nullptr);
    REQUIRE(kept.ends == std::vector{CutEnd::finished});
    REQUIRE(kept.edges.size() == expected.points.size());
    REQUIRE(kept.edges.size() > 200000);
    const auto same = [](const cut::EdgePoint& a, const cut::EdgePoint& b) {
        return a.outer_um == b.outer_um && a.inner_um == b.inner_um;
    };
    CHECK(std::equal(kept.edges.begin(), kept.edges.end(), expected.points.begin(), same));
    REQUIRE(kept.edgesAtFrames.size() == expected.atFrames.size());
    CHECK(std::equal(kept.edgesAtFrames.begin(), kept.edgesAtFrames.end(), expected.atFrames.begin(),
                     [](auto a, auto b) { return static_cast<std::size_t>(a) == b; }));
}

TEST_CASE("Only a note on with a velocity is a cue", "[live-side]") {
    const juce::uint8 on = 0x90, off = 0x80, controller = 0xb0, leadIn = 38;
    const auto lowers = [](std::initializer_list<juce::uint8> bytes) {
        Processor processor;
        test::setUp(processor, test::quickSide());
        processor.prepareToPlay(44100, 64);
        juce::AudioBuffer<float> audio(2, 64);
        audio.clear();
        juce::MidiBuffer midi;
        midi.addEvent(bytes.begin(), static_cast<int>(bytes.size()), 0);
        processor.processBlock(audio, midi);
        processor.service().step();
        return processor.service().report().status.lowering;
    };
    CHECK(lowers({on, leadIn, 1}));
    CHECK(lowers({static_cast<juce::uint8>(on | 15), leadIn, 127}));
    CHECK_FALSE(lowers({on, leadIn, 0}));
    CHECK_FALSE(lowers({off, leadIn, 64}));
    CHECK_FALSE(lowers({on, 39, 64}));
    CHECK_FALSE(lowers({controller, leadIn, 127}));
}
