// SPDX-License-Identifier: GPL-3.0-or-later
// A live program listened to with the stylus up, and then cut: it is found in what was heard, the log says where, and what
// cannot be used is said.
#include "Log/BookReader.h"
#include "Plugin/BookJournal.h"
#include "Tests/Cut/Rehearse.h"
#include "Tests/Plugin/HostRig.h"
#include "Tests/Support/LandPromise.h"
#include "Tests/Support/SameFrames.h"

#include <cmath>

using namespace headland;
using cut::Cue;
using Kind = handoff::CutEvent::Kind;
using plugin::Processor;

namespace {

constexpr double rate_hz = 44100;

std::int64_t sample(double at_s) {
    return std::llround(at_s * rate_hz);
}

/// Silence before and after.
test::Program between(double before_s, test::Program p, double after_s) {
    for (auto* channel : {&p.left, &p.right}) {
        channel->insert(channel->begin(), static_cast<std::size_t>(sample(before_s)), 0.0f);
        channel->insert(channel->end(), static_cast<std::size_t>(sample(after_s)), 0.0f);
    }
    return p;
}

/// The thread's work at once, with every block: the tests play faster than it looks.
void stepWith(Processor& processor, test::Take& take) {
    for (std::int64_t at = 0; at < static_cast<std::int64_t>(take.program.length()); at += sample(0.25))
        take.deeds.emplace(at, [&processor](Processor&) {
            processor.service().rehearsal().step();
            processor.service().step();
        });
}

/// Listens to a tape, and stops.
void listenTo(Processor& processor, const test::Program& tape) {
    test::Take take;
    take.program = tape;
    take.deeds.emplace(0, [](Processor& p) { p.service().rehearsal().listen(); });
    stepWith(processor, take);
    test::play(processor, take);
    processor.service().rehearsal().step();
    processor.service().rehearsal().stopListening();
    processor.service().step();
}

test::Take cutOf(Processor& processor, const test::Program& tape, double before_s) {
    test::Take take;
    take.program = between(before_s, tape, 0);
    take.cues = {{0, Cue::leadIn}};
    stepWith(processor, take);
    return take;
}

constexpr double audible_db = -50;

/// Of a frame.
std::int64_t firstSound(const std::vector<cut::CutFrame>& frames) {
    const auto isSound = [](const cut::CutFrame& f) { return f.peak_dbfs > audible_db; };
    return std::find_if(frames.begin(), frames.end(), isSound) - frames.begin();
}

double firstSound_s(const test::Program& p) {
    std::size_t i = 0;
    while (std::max(std::abs(p.left[i]), std::abs(p.right[i])) < std::pow(10.0, audible_db / 20))
        ++i;
    return static_cast<double>(i) / rate_hz;
}

std::vector<cut::ProfileUse> uses(const test::Kept& kept) {
    std::vector<cut::ProfileUse> all;
    for (const auto& event : kept.events)
        if (event.kind == Kind::rehearsal)
            all.push_back(event.rehearsal);
    return all;
}

} // namespace

TEST_CASE(
    "A tape that was listened to is found while it is cut, within 10 ms, and the side is planned with it",
    "[live-rehearsal]") {
    const cut::CutSettings settings; // what finds it was measured at 33 1/3
    const auto tape = test::music(21, 60);
    const auto cutIt = [&](bool listened, test::Kept& kept) {
        Processor processor;
        test::setUp(processor, settings);
        if (listened) {
            listenTo(processor, between(3, tape, 1));
            CHECK(processor.service().report().rehearsal.length_s
                  == Approx(64).margin(2 * settings.turn_s() / plan::Profile::binsPerTurn));
        }
        processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
        test::play(processor, cutOf(processor, tape, 8));
        processor.service().setJournal(nullptr);
        return processor.service().report().status.rehearsal;
    };
    test::Kept blind, found;
    CHECK_FALSE(cutIt(false, blind).wasGiven);
    CHECK(uses(blind).empty());
    const auto use = cutIt(true, found);
    CHECK(use.isSought);
    CHECK(use.wasUsed);
    // Later it may be dropped: invented tones are not always what they were, a millisecond beside (docs/theory/alignment.md).
    REQUIRE(found.frames.size() == blind.frames.size());

    const auto all = uses(found);
    REQUIRE(all.size() >= 2);
    CHECK(all.front().isSought);
    CHECK_FALSE(all.front().wasUsed);
    CHECK(all.back() == use);
    // The tape begins 3 s into what was heard; a sector is counted from where the stylus went down.
    const auto sector_s = settings.turn_s() / settings.sectors_per_turn;
    const auto told_s =
        3 + firstSound_s(tape) + static_cast<double>(use.sector - firstSound(found.frames)) * sector_s;
    CHECK(use.at_s == Approx(told_s).margin(0.01 + sector_s));
    CHECK(use.ratio == Approx(1).margin(0.001));

    test::LandPromise promise(settings);
    for (const auto& frame : found.frames)
        promise.frame(frame);
    CHECK(promise.worstLack_um <= test::landPromise_um);
    CHECK_FALSE(test::sameBits(found.frames, blind.frames));
}

TEST_CASE("Another tape than was listened to is not found, or dropped and told, and land is as without",
          "[live-rehearsal]") {
    const auto settings = test::quickSide();
    const auto tape = test::music(22, 40);
    Processor processor;
    test::setUp(processor, settings);
    listenTo(processor, test::music(23, 40));
    test::Kept kept;
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
    test::play(processor, cutOf(processor, tape, 4));
    processor.service().setJournal(nullptr);
    const auto use = processor.service().report().status.rehearsal;
    CHECK(use.wasGiven);
    CHECK((!use.wasUsed || use.isDropped));
    test::LandPromise promise(settings);
    for (const auto& frame : kept.frames)
        promise.frame(frame);
    CHECK(promise.worstLack_um <= test::landPromise_um);
}

TEST_CASE("Listening ends when the stylus is lowered or the set-up changed, keeps what was heard and says so",
          "[live-rehearsal]") {
    const auto settings = test::quickSide();
    Processor processor;
    test::setUp(processor, settings);
    auto& rehearsal = processor.service().rehearsal();
    CHECK_FALSE(rehearsal.report().isListening);
    CHECK(rehearsal.report().length_s == 0);
    test::Take take;
    take.program = test::music(24, 12);
    take.deeds.emplace(0, [](Processor& p) { p.service().rehearsal().listen(); });
    take.deeds.emplace(sample(3), [&](Processor& p) {
        CHECK(p.service().rehearsal().report().isListening);
        CHECK(p.service().rehearsal().report().heard_s == Approx(3).margin(0.3));
    });
    const auto why = [&] { return processor.service().report().rehearsal.why; };

    SECTION("lowered") {
        take.cues = {{sample(6), Cue::leadIn}};
        stepWith(processor, take);
        test::play(processor, take);
        CHECK(why().find("the stylus was lowered") != std::string::npos);
    }
    SECTION("changed") {
        auto other = settings;
        other.disc_level_db = -3;
        take.deeds.emplace(sample(6), [&](Processor& p) { test::setUp(p, other); });
        stepWith(processor, take);
        test::play(processor, take);
        CHECK(why().find("the set-up was changed") != std::string::npos);
    }
    CHECK_FALSE(rehearsal.report().isListening);
    CHECK(rehearsal.report().length_s == Approx(6).margin(0.3));
    rehearsal.stopListening(); // means nothing now, and says nothing
    CHECK(rehearsal.report().length_s > 5);
    rehearsal.listen();
    CHECK(why().empty());
    rehearsal.stopListening(); // nothing came: what is known stays
    CHECK(rehearsal.report().length_s > 5);
}

TEST_CASE("What was listened to serves at another level, but not at another speed or with another high-pass",
          "[live-rehearsal]") {
    const auto settings = test::quickSide();
    Processor processor;
    test::setUp(processor, settings);
    listenTo(processor, test::music(25, 10));
    const auto givenWith = [&](const cut::CutSettings& s) {
        test::setUp(processor, s);
        processor.service().step();
        return processor.service().report().setup.rehearsed != nullptr;
    };
    auto other = settings;
    other.disc_level_db = -4;
    CHECK(givenWith(other));
    CHECK(processor.service().report().rehearsal.why.empty());
    other = settings;
    other.highpass_hz = 25;
    CHECK_FALSE(givenWith(other));
    CHECK(processor.service().report().rehearsal.why.find("another High-pass") != std::string::npos);
    other = settings;
    other.rpm = 45;
    CHECK_FALSE(givenWith(other));
    CHECK(processor.service().report().rehearsal.why.find("another Speed") != std::string::npos);
    CHECK(givenWith(settings));
    CHECK(processor.service().report().rehearsal.why.empty());
}

TEST_CASE("The log of a live cut keeps at which sector it was found where, to the last bit",
          "[live-rehearsal]") {
    const juce::TemporaryFile place(".headland");
    const auto book = place.getFile().getFullPathName().toStdString();
    Processor processor;
    test::setUp(processor, cut::CutSettings());
    const auto tape = test::music(28, 40);
    listenTo(processor, tape);
    processor.service().setJournal(std::make_unique<plugin::BookJournal>("a test"));
    processor.chooseBook({book, {"Lantern Sessions", "A"}});
    test::play(processor, cutOf(processor, tape, 4));
    const auto use = processor.service().report().status.rehearsal;
    REQUIRE(use.wasUsed);
    processor.cue(Cue::lift);
    test::Take rest;
    rest.program = test::silence(0.1);
    test::play(processor, rest);
    processor.service().setJournal(nullptr);

    std::vector<log::CutEventRecord> told;
    for (const auto& event : log::BookReader(book).cut(1).events)
        if (event.kind == "rehearsal" && event.what != "dropped")
            told.push_back(event);
    REQUIRE(told.size() >= 4);
    CHECK(told[0].what == "sought");
    const auto last = told.end() - 3;
    CHECK(last[0].what == "sector");
    CHECK(last[0].value == static_cast<double>(use.sector));
    CHECK(last[1].what == "at_s");
    CHECK(last[1].value == use.at_s);
    CHECK(last[2].what == "ratio");
    CHECK(last[2].value == use.ratio);
}
