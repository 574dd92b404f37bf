// SPDX-License-Identifier: GPL-3.0-or-later
// The audio thread's side by itself: when it takes over a set-up that is on offer, and what it tells.
#include "Plugin/AudioSide.h"
#include "Tests/Plugin/HostRig.h"

using namespace headland;
using cut::Cue;
using cut::State;

namespace {

std::unique_ptr<plugin::LiveCut> made(std::uint32_t serial) {
    return std::make_unique<plugin::LiveCut>(plugin::LiveSetup{test::quickSide(), {}, 44100, false, serial});
}

struct Rig {
    plugin::Link link;
    plugin::AudioSide side{link};
    std::vector<float> left = std::vector<float>(512, 0.0f), right = left;

    void block(double seconds) {
        for (auto samples = static_cast<int>(seconds * 44100); samples > 0; samples -= 512) {
            side.begin(std::nullopt);
            side.process(
                {left.data(), right.data(), nullptr, nullptr, left.data(), right.data(), nullptr, nullptr},
                512, {});
            side.end();
        }
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
    std::vector<handoff::CutEvent> events(10000);
    events.resize(rig.link.events.drain(events));
    REQUIRE(events.size() > 500);
    using Kind = handoff::CutEvent::Kind;
    CHECK(events.front().kind == Kind::begun);
    CHECK(events.back().kind == Kind::ended);
    CHECK(events.back().end == handoff::CutEnd::bypassed);
    for (std::size_t i = 1; i + 2 < events.size(); ++i) {
        REQUIRE(events[i].kind == Kind::frame);
        REQUIRE(events[i].frame.turn * test::quickSide().sectors_per_turn == Approx(static_cast<double>(i)));
    }
    CHECK(std::all_of(events.begin(), events.end(), [](const auto& e) { return e.serial == 7; }));
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
}
