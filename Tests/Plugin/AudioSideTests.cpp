// SPDX-License-Identifier: GPL-3.0-or-later
// The audio thread's side by itself: when it takes over a set-up that is on offer, and what it tells.
#include "Log/CutEndText.h"
#include "Plugin/AudioSide.h"
#include "Tests/Plugin/HostRig.h"

using namespace headland;
using cut::Cue;
using cut::State;
using Kind = handoff::CutEvent::Kind;

namespace {

std::unique_ptr<plugin::LiveCut> made(std::uint32_t serial) {
    return std::make_unique<plugin::LiveCut>(plugin::LiveSetup{test::quickSide(), {}, 44100, false, serial});
}

struct Rig {
    plugin::Link link;
    plugin::AudioSide side{link};
    std::vector<float> left = std::vector<float>(512, 0.0f), right = left;
    plugin::LiveSettings ridden;

    void block(double seconds) {
        for (auto samples = static_cast<int>(seconds * 44100); samples > 0; samples -= 512) {
            side.begin(std::nullopt);
            side.process(
                {left.data(), right.data(), nullptr, nullptr, left.data(), right.data(), nullptr, nullptr},
                512, ridden);
            side.end();
        }
    }
    /// Everything that was told.
    std::vector<handoff::CutEvent> told() {
        std::vector<handoff::CutEvent> events(plugin::Link::eventsMax);
        events.resize(link.events.drain(events));
        return events;
    }
    std::uint32_t serial() { return side.current()->setup().serial; }
    handoff::LiveStatus status() {
        handoff::LiveStatus latest;
        link.status.read(latest);
        return latest;
    }
};

} // namespace

TEST_CASE("A set-up on offer is taken over only when the stylus is up and nobody is lowering it",
          "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(1));
    rig.side.prepare(std::nullopt);
    REQUIRE(rig.serial() == 1);
    rig.block(1);
    rig.side.cue(Cue::leadIn);
    rig.link.cuts.offer(made(2)); // offered a moment too late: the drives are running up
    rig.block(0.1);
    CHECK(rig.serial() == 1);
    CHECK(rig.status().lowering);
    rig.block(3);
    CHECK(rig.serial() == 1);
    CHECK(rig.status().state == State::program);
    rig.side.cue(Cue::lift);
    rig.block(0.1);
    CHECK(rig.serial() == 2);
    CHECK(rig.status().cuts == 1);
}

TEST_CASE("What is told is whole: a beginning, every sector, an end, all with the set-up's number",
          "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(7));
    rig.side.prepare(std::nullopt);
    rig.side.cue(Cue::leadIn);
    rig.block(4);
    rig.side.liftFor(handoff::CutEnd::bypassed);
    const auto events = rig.told();
    REQUIRE(events.size() > 500);
    CHECK(events.front().kind == Kind::begun);
    CHECK(events.back().kind == Kind::ended);
    CHECK(events.back().end == handoff::CutEnd::bypassed);
    for (std::size_t i = 1; i + 2 < events.size(); ++i) {
        REQUIRE(events[i].kind == Kind::frame);
        REQUIRE(events[i].number == static_cast<std::int64_t>(i) - 1);
        REQUIRE(events[i].frame.turn * test::quickSide().sectors_per_turn == Approx(static_cast<double>(i)));
    }
    CHECK(events.back().number == static_cast<std::int64_t>(events.size()) - 2);
    CHECK(
        std::all_of(events.begin(), events.end(), [](const auto& e) { return e.serial == 7 && e.cut == 1; }));
}

TEST_CASE("Frames that find no room are counted and said, and the cut goes on", "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(1));
    rig.side.prepare(std::nullopt);
    rig.side.cue(Cue::leadIn);
    rig.block(90); // nobody takes them
    const auto status = rig.status();
    const auto sectors = std::llround(status.frame.turn * test::quickSide().sectors_per_turn);
    REQUIRE(sectors + 1 < static_cast<long long>(plugin::Link::eventsMax)); // not full yet
    CHECK(status.framesLost == 0);
    rig.block(30);
    const auto later = rig.status();
    const auto more = std::llround(later.frame.turn * test::quickSide().sectors_per_turn);
    REQUIRE(more + 1 > static_cast<long long>(plugin::Link::eventsMax));
    CHECK(later.framesLost == static_cast<std::uint64_t>(more + 1) - plugin::Link::eventsMax);
    CHECK(later.state == State::program);
    // What comes afterwards has its own numbers, and the end those of the whole cut.
    auto events = rig.told();
    CHECK(events.back().number == static_cast<std::int64_t>(plugin::Link::eventsMax) - 2);
    rig.block(1);
    rig.side.liftFor(handoff::CutEnd::lifted);
    events = rig.told();
    REQUIRE(events.size() > 100);
    CHECK(events.front().kind == Kind::frame);
    CHECK(events.front().number == more);
    CHECK(events.back().kind == Kind::ended);
    CHECK(events.back().number == events[events.size() - 2].number + 1);
}

TEST_CASE("Cues, what is ridden and marks are told where they came, and a mark without a cut is counted",
          "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(1));
    rig.side.prepare(std::nullopt);
    rig.side.mark();
    rig.block(1);
    CHECK(rig.status().unheededMarks == 1);
    rig.ridden.land_add_um = 4;
    rig.side.cue(Cue::leadIn);
    rig.block(3);
    const auto before = rig.status().frame;
    rig.side.mark();
    rig.link.marks.count();
    rig.link.marks.count();
    rig.block(0.05);
    rig.side.cue(Cue::band);
    const auto atBand = rig.status().frame;
    rig.block(0.05);
    rig.ridden.depth_add_um = 3;
    rig.block(0.05);
    rig.side.cue(Cue::lift);
    rig.side.mark();
    rig.block(0.05);
    CHECK(rig.status().unheededMarks == 2);
    std::vector<handoff::CutEvent> events;
    std::int64_t next = 0;
    for (const auto& event : rig.told()) {
        CHECK(event.number == next); // of the frame that comes next, whatever it is
        next += event.kind == Kind::frame;
        if (event.kind != Kind::frame)
            events.push_back(event);
    }
    REQUIRE(events.size() == 8);
    CHECK(events[0].kind == Kind::begun);
    CHECK(events[1].kind == Kind::ridden);
    CHECK(events[1].ridden == handoff::Ridden{4, 0, 0});
    CHECK(events[1].number == 0);
    CHECK(events[1].frame.time_s < 0); // the lead-in's
    for (const auto i : {2, 3, 4}) {
        CHECK(events[static_cast<std::size_t>(i)].kind == Kind::mark);
        CHECK(events[static_cast<std::size_t>(i)].frame.time_s == before.time_s);
    }
    CHECK(events[5].kind == Kind::cue);
    CHECK(events[5].cue == Cue::band);
    CHECK(events[5].frame.time_s == atBand.time_s);
    CHECK(events[6].kind == Kind::ridden);
    CHECK(events[6].ridden == handoff::Ridden{4, 3, 0});
    CHECK(events[7].kind == Kind::ended);
}

TEST_CASE("What is ridden when a second cut begins has not the time of the first", "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(1));
    rig.side.prepare(std::nullopt);
    rig.ridden.land_add_um = 4;
    for (int i = 0; i < 2; ++i) {
        rig.side.cue(Cue::leadIn);
        rig.block(5);
        rig.side.cue(Cue::lift);
        rig.block(0.1);
    }
    std::vector<double> ridden_s;
    for (const auto& event : rig.told())
        if (event.kind == Kind::ridden)
            ridden_s.push_back(event.frame.time_s);
    REQUIRE(ridden_s.size() == 2);
    CHECK(ridden_s[0] == ridden_s[1]);
}

TEST_CASE("Where the queue had no room, beginning and end are told again", "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(1));
    rig.side.prepare(std::nullopt);
    while (rig.link.events.push(handoff::CutEvent{})) {
    }
    rig.ridden.land_add_um = 4;
    rig.side.cue(Cue::leadIn);
    rig.block(4);
    rig.side.mark();
    rig.block(0.1);
    const auto status = rig.status();
    CHECK(status.framesLost > 100);
    CHECK(status.unheededMarks == 1); // nobody would know what it is about
    rig.told();
    rig.side.cue(Cue::program); // the first that finds room, and nobody knows of the cut yet
    rig.block(0.5);
    auto events = rig.told();
    REQUIRE(events.size() > 50);
    CHECK(events[0].kind == Kind::begun);
    CHECK(events[1].kind == Kind::ridden);
    CHECK(events[2].kind == Kind::frame);
    CHECK(events[2].number == events[0].number);
    CHECK(events[2].number > 100);
    while (rig.link.events.push(handoff::CutEvent{})) {
    }
    rig.side.cue(Cue::lift);
    rig.block(0.1);
    for (const auto& event : rig.told())
        REQUIRE(event.cut == 0); // ours only
    rig.block(0.1);
    events = rig.told();
    REQUIRE(events.size() == 1);
    CHECK(events[0].kind == Kind::ended);
    CHECK(events[0].end == handoff::CutEnd::lifted);
    CHECK(events[0].cut == 1);
}

TEST_CASE("Edges of a cut come in chunks, every sample once, and only where somebody wants them",
          "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(1));
    rig.side.prepare(std::nullopt);
    const auto chunks = [&] {
        std::vector<handoff::EdgeChunk> all(plugin::Link::edgesMax);
        all.resize(rig.link.edges.drain(all));
        return all;
    };
    rig.side.cue(Cue::leadIn);
    rig.block(3);
    CHECK(chunks().empty());
    rig.side.cue(Cue::lift);
    rig.told();
    rig.link.edgesWanted.set(1);
    rig.block(1);
    rig.side.cue(Cue::leadIn);
    rig.block(5);
    rig.side.cue(Cue::lift);
    const auto events = rig.told();
    const auto all = chunks();
    REQUIRE(all.size() > 1000);
    std::int64_t next = 0;
    for (const auto& chunk : all) {
        REQUIRE(chunk.cut == 2);
        REQUIRE(chunk.firstSample == next);
        REQUIRE((chunk.count > 0 && chunk.count <= handoff::EdgeChunk::pointsMax));
        next += chunk.count;
    }
    // Each event knows how many came before it: a frame, all of its sector's.
    const auto turn_samples = test::quickSide().turn_s() * 44100;
    for (const auto& event : events) {
        if (event.kind != Kind::frame)
            continue;
        REQUIRE(event.chunks > 0);
        REQUIRE(event.chunks <= all.size());
        const auto& last = all[event.chunks - 1];
        const auto known = static_cast<double>(last.firstSample + last.count);
        REQUIRE(known == Approx(event.frame.turn * turn_samples).margin(1));
    }
}

TEST_CASE("Chunks that find no room are lost, and the others keep their places", "[audio-side]") {
    Rig rig;
    rig.link.cuts.offer(made(1));
    rig.side.prepare(std::nullopt);
    rig.link.edgesWanted.set(1);
    rig.side.cue(Cue::leadIn);
    rig.block(25); // more than the queue holds
    std::vector<handoff::EdgeChunk> all(plugin::Link::edgesMax);
    all.resize(rig.link.edges.drain(all));
    CHECK(all.size() == plugin::Link::edgesMax);
    const auto before = rig.told().back();
    CHECK(before.chunks == all.size());
    const auto end = all.back().firstSample + all.back().count;
    rig.block(0.5);
    const auto after = rig.told().front();
    CHECK(after.chunks > before.chunks);
    all.resize(rig.link.edges.drain(all));
    REQUIRE_FALSE(all.empty());
    CHECK(all.front().firstSample > end + 1000);
    CHECK(all.front().firstSample
          == Approx(before.frame.turn * test::quickSide().turn_s() * 44100).margin(512));
}

TEST_CASE("Where the disc ends, the cut ends by itself and says why, and the next one knows nothing of it",
          "[audio-side]") {
    Rig rig;
    auto set = test::quickSide();
    set.applyFormat(0);
    set.start_radius_mm = 61;
    set.pitch_min_um = set.pitch_max_um = 400;
    set.disc_end = GENERATE(0, 1);
    rig.link.cuts.offer(std::make_unique<plugin::LiveCut>(plugin::LiveSetup{set, {}, 44100, false, 1}));
    rig.side.prepare(std::nullopt);
    rig.block(2.5);
    rig.side.cue(Cue::leadIn);
    rig.block(40);
    const auto status = rig.status();
    CHECK(status.state == State::up);
    CHECK(status.lastEnd == handoff::CutEnd::discEnded);
    auto events = rig.told();
    CHECK(events.back().kind == Kind::ended);
    CHECK(events.back().end == handoff::CutEnd::discEnded);
    CHECK(events[events.size() - 2].frame.state == (set.disc_end == 1 ? State::program : State::finishing));
    CHECK(log::isFault(events.back().end));
    CHECK(log::describe(events.back().end) == "ended as a fault: the disc ended before the program");

    rig.side.cue(Cue::leadIn);
    rig.block(4);
    rig.side.cue(Cue::finishing);
    rig.block(8);
    CHECK(rig.told().back().end == handoff::CutEnd::finished);
}
