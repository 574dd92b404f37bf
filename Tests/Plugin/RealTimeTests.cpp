// SPDX-License-Identifier: GPL-3.0-or-later
// The audio thread keeps its word: a whole side in blocks of 64 under the trap, in every state, while set-up, presets and
// what is ridden change; and the processor beside a thread that does what an editor does.
#include "Log/Database.h"
#include "Plugin/BookJournal.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Plugin/HostRig.h"
#include "Tests/Support/RealTimeTrap.h"
#include "Tests/Support/SameFrames.h"

#include <atomic>
#include <chrono>
#include <csignal>
#include <optional>
#include <set>
#include <thread>

#include <sys/resource.h>

using namespace headland;
using cut::Cue;
using plugin::Processor;

namespace {

std::int64_t samples(double seconds) {
    return std::llround(seconds * 44100);
}

/// Every state there is: waiting, run-up, lead-in, program, band, lead-out, finishing, up by itself; lifted; down again.
test::Take everyState() {
    test::Take take;
    take.program = test::randomProgram(61, 40);
    for (std::size_t i = 20000; i < take.program.length(); i += 100003)
        take.program.left[i] = std::numeric_limits<float>::quiet_NaN();
    take.cues = {{0, Cue::leadIn},
                 {samples(4), Cue::band},
                 {samples(7), Cue::lift},
                 {samples(8), Cue::leadIn},
                 {samples(9), Cue::leadIn},
                 {samples(9.5), Cue::program},
                 {samples(10), Cue::band},
                 {samples(11), Cue::program},
                 {samples(13), Cue::leadOut},
                 {samples(16), Cue::finishing},
                 {samples(18), Cue::lift},
                 {samples(20), Cue::leadIn}};
    take.blocks = {64};
    return take;
}

/// What a person does meanwhile, at the set-up and elsewhere.
std::multimap<std::int64_t, std::function<void(Processor&)>> everyDeed() {
    std::multimap<std::int64_t, std::function<void(Processor&)>> deeds;
    test::Random random(62);
    for (double at = 0.1; at < 39; at += 0.21) {
        const auto land = random.between(0, 30), depth = random.between(0, 20), trim = random.between(-6, 3);
        deeds.emplace(samples(at), [=](Processor& p) {
            auto state = p.state();
            state.live.land_add_um = land;
            state.live.depth_add_um = depth;
            state.live.level_trim_db = trim;
            state.cut.land_min_um = 12 + land / 10;
            p.setState(state);
        });
    }
    for (double at = 0.5; at < 39; at += 3.3)
        deeds.emplace(samples(at), [at](Processor& p) {
            p.setCurrentProgram(static_cast<int>(at) % p.getNumPrograms());
            auto state = p.state();
            state.cut = test::quickSide();
            p.setState(state);
            p.cue(Cue::program);
            p.mark();
        });
    return deeds;
}

/// While it lives, no file grows beyond a few pages of a book: what a full disk is to it.
struct FullDisk {
    FullDisk() {
        std::signal(SIGXFSZ, SIG_IGN);
        getrlimit(RLIMIT_FSIZE, &before);
        const rlimit few{200000, before.rlim_max};
        setrlimit(RLIMIT_FSIZE, &few);
    }
    ~FullDisk() { setrlimit(RLIMIT_FSIZE, &before); }
    FullDisk(const FullDisk&) = delete;
    rlimit before{};
};

/// Logs into a book, as a person's cuts are, and keeps which states came by.
class StatesSeen : public plugin::Journal {
public:
    StatesSeen(std::set<cut::State>& seen, const std::string& path) : seen(seen) { book.choose({path, {}}); }
    void begin(const plugin::LiveSetup& setup, const log::ProgramRecord* program) override {
        book.begin(setup, program);
    }
    void frame(const cut::CutFrame& frame, std::int64_t number) override {
        seen.insert(frame.state);
        book.frame(frame, number);
    }
    bool wantsEdges() const override { return true; }
    void edges(const cut::EdgeRun& run) override { book.edges(run); }
    void event(const handoff::CutEvent& event) override { book.event(event); }
    void end(handoff::CutEnd reason, std::int64_t frames) override { book.end(reason, frames); }
    std::string trouble() const override { return book.trouble(); }

private:
    std::set<cut::State>& seen;
    plugin::BookJournal book{"a test"};
};

} // namespace

TEST_CASE("A side in blocks of 64, in every state and while everything changes: no allocation, lock, wait, "
          "file or throw",
          "[real-time]") {
    if (!test::RealTimeTrap::works())
        SUCCEED("The trap does not work in sanitizer builds.");
    const test::TestFolder folder;
    const auto locked = folder / "locked.headland";
    log::Database other(locked, log::Database::Access::write, 1000);
    const log::Transaction hold(other);
    for (const auto& [book, outside] :
         {std::pair{"well", false}, std::pair{"full", true}, std::pair{"locked", false}}) {
        std::optional<FullDisk> full;
        if (book == std::string("full"))
            full.emplace();
        Processor processor;
        test::setUp(processor, test::quickSide());
        std::set<cut::State> seen;
        processor.service().setJournal(
            std::make_unique<StatesSeen>(seen, folder / (std::string(book) + ".headland")));
        auto take = everyState();
        if (outside)
            take.preview = take.program;
        take.deeds = everyDeed();
        take.marks = {samples(3), samples(5), samples(7.5), samples(12)};
        test::RealTimeTrap trap;
        long blocks = 0, foreseen = 0;
        plan::Foresight coming;
        test::play(processor, take, [&](const std::function<void()>& block) {
            constexpr int blocksAPicture = 23; // a window looks on
            if (blocks % blocksAPicture == 0 && processor.service().foresee(coming))
                ++foreseen;
            const test::RealTimeTrap::Scope scope(trap);
            block();
            ++blocks;
        });
        CHECK(trap.caught() == "");
        CHECK(blocks > 27000);
        CHECK(foreseen > 1000);
        CHECK(seen
              == std::set{cut::State::leadIn, cut::State::program, cut::State::band, cut::State::leadOut,
                          cut::State::finishing});
        INFO(book);
        const auto isWell = book == std::string("well");
        for (int i = 0; i < 500 && !isWell && processor.service().report().journalTrouble.empty(); ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        CHECK(processor.service().report().journalTrouble.empty() == isWell);
        CHECK(processor.service().report().status.unheededMarks > 0);
        processor.service().setJournal(nullptr);
    }
}

TEST_CASE("Bypassed blocks keep the audio thread's word too", "[real-time]") {
    Processor processor;
    test::setUp(processor, test::quickSide());
    test::Take take;
    take.program = test::randomProgram(63, 3);
    take.cues = {{0, Cue::leadIn}};
    test::play(processor, take);
    juce::AudioBuffer<float> audio(4, 64);
    audio.clear();
    juce::MidiBuffer midi;
    test::RealTimeTrap trap;
    {
        const test::RealTimeTrap::Scope scope(trap);
        for (int i = 0; i < 1000; ++i)
            processor.processBlockBypassed(audio, midi);
    }
    CHECK(trap.caught() == "");
}

TEST_CASE("The processor runs beside a thread that rides, sets up, looks and cues", "[real-time][threads]") {
    Processor processor;
    test::setUp(processor, test::quickSide());
    const test::TestFolder folder;
    processor.service().setJournal(std::make_unique<plugin::BookJournal>("a test"));
    std::atomic<bool> seen{false}; // a program has been cut
    std::atomic<bool> playing{true};
    std::atomic<int> looks{0};
    // Only what an editor may do on the main thread while audio runs.
    std::thread editor([&] {
        test::Random random(64);
        for (int round = 0; playing;) {
            auto state = processor.state();
            state.live.land_add_um = random.between(0, 30);
            state.live.level_trim_db = random.between(-6, 3);
            if (++round % 3000 == 0) // each new set-up hears a preview of its own before the stylus goes down
                state.cut.land_min_um = random.between(10, 14);
            processor.setState(state);
            if (random.unit() < 0.01)
                processor.mark();
            if (random.unit() < 0.01)
                processor.chooseBook({folder / (random.unit() < 0.5 ? "a.headland" : "b.headland"),
                                      {"Lantern Sessions", random.unit() < 0.5 ? "A" : "B"}});
            if (random.unit() < 0.002)
                processor.cue(static_cast<Cue>(static_cast<int>(random.unit() * cut::cueCount)));
            const auto report = processor.service().report();
            // A frame is whole or it is not there: its figures belong together.
            const auto& f = report.status.frame;
            seen = seen || f.state == cut::State::program;
            if (f.state == cut::State::program
                && std::abs(f.estimate.left_mm + report.setup.cut.end_radius_mm - f.radius_mm) > 1e-9)
                looks = -1000000;
            ++looks;
            juce::MemoryBlock kept;
            processor.getStateInformation(kept);
            std::this_thread::yield();
        }
    });
    test::Take take;
    take.program = test::randomProgram(65, 30);
    for (double at = 0; at < 30; at += 4.1)
        take.cues.emplace(samples(at), Cue::leadIn);
    take.blocks = {64, 333, 1};
    // How much of it is heard between two new set-ups is up to the machine: again, until a program has been cut.
    for (int round = 0; round < 50 && !seen; ++round)
        test::play(processor, take);
    playing = false;
    editor.join();
    CHECK(looks > 10);
    CHECK(seen);
    CHECK(processor.service().report().status.framesLost == 0);
    processor.service().setJournal(nullptr);
}
