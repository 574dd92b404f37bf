// SPDX-License-Identifier: GPL-3.0-or-later
// A program file cut through the processor without a device, against what the command-line tool writes, and the log of it.
#include "Cut/CutEngine.h"
#include "Files/Errors.h"
#include "Files/ProgramFile.h"
#include "Files/RehearseProgram.h"
#include "Log/BookReader.h"
#include "Log/CsvWriter.h"
#include "Plugin/BookJournal.h"
#include "Plugin/FileCut.h"
#include "Tests/Plugin/HostRig.h"
#include "Tests/Support/SameFrames.h"
#include "Tests/Support/Wav.h"

#include <bit>
#include <chrono>
#include <cmath>
#include <thread>

using namespace headland;
using plugin::FileCut;
using plugin::Processor;
using test::Folder;
using test::writeWav;

namespace {

void waitFor(const FileCut& cut) {
    for (int i = 0; i < 6000 && !cut.isDone(); ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    REQUIRE(cut.isDone());
}

std::string textOf(const juce::File& file) {
    return file.loadFileAsString().toStdString();
}

std::string csvOf(const log::FrameList& frames) {
    auto text = log::csvNames();
    for (const auto& frame : frames)
        log::appendCsvRow(text, frame);
    return text;
}

/// Logs into a book from now on.
void logInto(Processor& processor, const std::string& path) {
    processor.service().setJournal(std::make_unique<plugin::BookJournal>("a test"));
    processor.chooseBook({path, {"Lantern Sessions", "A"}});
}

/// Every cut that has ended is in its book then.
void finish(Processor& processor) {
    processor.service().step();
    processor.service().setJournal(nullptr);
}

void runTool(const std::string& wav, const juce::StringArray& more) {
    juce::ChildProcess tool;
    juce::StringArray command{HEADLAND_TOOL, "cut",    wav,     "--quiet",
                              "--set",       "rpm=78", "--set", "preview_s=0.8"};
    command.addArray(more);
    REQUIRE(tool.start(command));
    REQUIRE(tool.waitForProcessToFinish(60000));
    const auto code = tool.getExitCode();
    REQUIRE((code == 0 || code == 3)); // 3: it is cut, and comes out spoilt
}

void setUpAsTool(Processor& processor) {
    auto state = processor.state();
    state.cut.rpm = 78;
    state.cut.preview_s = 0.8;
    processor.setState(state);
}

} // namespace

TEST_CASE("A file cut through the processor logs the very rows of the command-line tool", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav"), csv = folder.path("tool.csv"),
               book = folder.path("live.headland");
    writeWav(wav, test::randomProgram(71, 12));
    runTool(wav, {"--csv", csv});
    Processor processor;
    setUpAsTool(processor);
    logInto(processor, book);
    {
        FileCut cut(processor, wav, 0);
        waitFor(cut);
        CHECK(cut.failure().empty());
        CHECK(cut.fraction() == 1);
        CHECK(cut.program().channels == 2);
    }
    CHECK(processor.service().report().journalTrouble.empty());
    finish(processor);
    const auto logged = log::BookReader(book).cut(1);
    const auto expected = textOf(juce::File(csv));
    REQUIRE(expected.size() > 100000);
    const auto same = csvOf(logged.frames) == expected; // without printing either
    CHECK(same);
    REQUIRE(logged.tail);
    CHECK(logged.tail->ending == "finished");
    CHECK_FALSE(logged.tail->isFault);
    CHECK(logged.gaps.empty());
    CHECK(logged.head.madeBy == "a test");
    CHECK(logged.head.side == log::SideName{"Lantern Sessions", "A"});
    CHECK(logged.head.settings.rpm == 78);
    CHECK(logged.head.preview == "own delay");
    REQUIRE(logged.head.program);
    CHECK(logged.head.program->path == wav);
    CHECK(logged.head.program->facts.length_frames == 12 * 44100);
    const auto& others = logged.head.otherSettings;
    CHECK(others.size() + 3 == plugin::liveTable().size()); // all but what is ridden
    REQUIRE(logged.events.size() == 1);
    CHECK(logged.events[0].kind == "cue");
    CHECK(logged.events[0].what == "lead-out");
}

TEST_CASE("A side cut through the processor has the kept places of the tool, point by point", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav"), tool = folder.path("tool.headland"),
               live = folder.path("live.headland");
    auto program = test::randomProgram(75, 14);
    test::addTone(program, 3, 3.4, 9000, 0.9); // steep and tight
    test::addTone(program, 7, 7.2, 6000, 0.8);
    writeWav(wav, program);
    runTool(wav, {"--book", tool, "--set", "pitch_slew_um_per_rev_s=25"});
    Processor processor;
    setUpAsTool(processor);
    auto state = processor.state();
    state.cut.pitch_slew_um_per_rev_s = 25; // too slow a carriage: demands are missed, and grooves come close
    processor.setState(state);
    logInto(processor, live);
    {
        FileCut cut(processor, wav, 0);
        waitFor(cut);
    }
    finish(processor);
    log::BookReader ofTool(tool), ofLive(live);
    const auto expected = ofTool.places(1), places = ofLive.places(1);
    REQUIRE(expected.size() > 5);
    REQUIRE(places.size() == expected.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        CHECK(places[i].flag == expected[i].flag);
        CHECK(places[i].time_s == expected[i].time_s);
        const auto a = ofLive.patch(places[i].place), b = ofTool.patch(expected[i].place);
        CHECK(a.startRadius_mm == b.startRadius_mm);
        CHECK(a.step_rad == b.step_rad);
        CHECK(a.points == b.points);
        REQUIRE(a.turns.size() == b.turns.size());
        REQUIRE(a.turns.size() > 1);
        for (std::size_t turn = 0; turn < a.turns.size(); ++turn) {
            CHECK(a.turns[turn].turn == b.turns[turn].turn);
            const auto same = std::equal(
                a.turns[turn].edges.begin(), a.turns[turn].edges.end(), b.turns[turn].edges.begin(),
                b.turns[turn].edges.end(), [](const auto& x, const auto& y) {
                    return std::bit_cast<std::uint64_t>(x) == std::bit_cast<std::uint64_t>(y);
                });
            CHECK(same);
        }
    }
}

TEST_CASE("A file cut with what its rehearsal left has the frames of that rehearsal, and knows its end from "
          "the first turn",
          "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav"), book = folder.path("live.headland");
    const auto music = test::randomProgram(72, 20);
    writeWav(wav, music);
    Processor processor;
    setUpAsTool(processor);
    cut::RehearsedProgram rehearsed;
    rehearsed.settings = processor.state().cut;
    rehearsed.settings.side_length_s = 20;
    rehearsed.profile = files::rehearseProgram(wav, rehearsed.settings, [](double) {});
    test::FrameKeeper expected;
    auto side = std::make_shared<disc::RehearsedSide>();
    {
        auto file = files::ProgramFile::open(wav);
        std::vector<float> left(20 * 44100), right(left.size());
        REQUIRE(file.read(left.data(), right.data(), static_cast<int>(left.size())) == 20 * 44100);
        cut::CutEngine engine;
        engine.prepare(rehearsed.settings, 44100, {}, rehearsed.profile);
        engine.rehearsed();
        engine.process(left.data(), right.data(), static_cast<int>(left.size()), expected);
        engine.finish(expected);
        REQUIRE(engine.profileUse().wasUsed);
    }
    for (const auto& frame : expected.frames)
        if (frame.state == cut::State::leadIn || frame.state == cut::State::program)
            side->add(frame.time_s, frame.radius_mm);
    rehearsed.side = side;
    const auto end_mm = 2 * side->end_mm();

    const auto logged = [&](const cut::RehearsedProgram& with) {
        logInto(processor, book);
        {
            FileCut cut(processor, wav, 0, with);
            waitFor(cut);
            CHECK(processor.service().report().status.rehearsal.wasUsed == (with.profile != nullptr));
            CHECK_FALSE(processor.service().report().status.rehearsal.isDropped);
        }
        finish(processor);
        log::BookReader reader(book);
        return reader.cut(reader.cuts().back().cut);
    };
    const auto cut = logged(rehearsed);
    REQUIRE(cut.frames.size() == expected.frames.size());
    double pitchOff_um = 0, endOff_mm = 0;
    for (std::size_t i = 0; i < expected.frames.size(); ++i) {
        const auto frame = cut.frames[i];
        pitchOff_um = std::max(pitchOff_um, std::abs(frame.pitch_um - expected.frames[i].pitch_um));
        if (frame.state != cut::State::program)
            continue;
        CHECK(frame.estimate.grade == disc::EstimateGrade::rehearsed);
        endOff_mm = std::max(endOff_mm, std::abs(frame.estimate.endDiameter_mm - end_mm));
    }
    CHECK(pitchOff_um <= 0.0001); // as the book keeps it
    CHECK(endOff_mm <= 0.02);

    const auto blind = logged({});
    CHECK(blind.frames.back().estimate.grade == disc::EstimateGrade::lengthKnown);
    REQUIRE(blind.frames.size() > 2000);
    CHECK(blind.frames[2000].pitch_um != cut.frames[2000].pitch_um); // something was known

    auto otherwise = rehearsed;
    otherwise.settings.land_min_um += 1; // the side was rehearsed with another set-up: its end says nothing
    CHECK(logged(otherwise).frames[2000].estimate.grade == disc::EstimateGrade::lengthKnown);
}

TEST_CASE("A book is chosen and a side named while a file is cut, which is for the next one", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav"), first = folder.path("first.headland"),
               second = folder.path("second.headland");
    writeWav(wav, test::randomProgram(76, 4));
    Processor processor;
    test::setUp(processor, test::quickSide());
    logInto(processor, first);
    for (int round = 0; round < 2; ++round) {
        FileCut cut(processor, wav, 0);
        for (int i = 0; !cut.isDone(); ++i) {
            if (processor.service().report().status.cuts > 0)
                processor.chooseBook({second, {"Lantern Sessions", i % 2 == 0 ? "A" : "B"}});
            std::this_thread::yield();
        }
        processor.chooseBook({second, {"Lantern Sessions", "C"}});
    }
    finish(processor);
    CHECK(log::BookReader(first).cuts().size() == 1);
    const auto cuts = log::BookReader(second).cuts();
    REQUIRE(cuts.size() == 1);
    CHECK(cuts[0].ending == "finished");
}

TEST_CASE("What is ridden, cues and marks are in the book, each with its time", "[file-cut]") {
    const Folder folder;
    const auto book = folder.path("live.headland");
    Processor processor;
    test::setUp(processor, test::quickSide());
    logInto(processor, book);
    const auto at = [](double seconds) { return std::llround(seconds * 44100); };
    test::Take take;
    take.program = test::randomProgram(77, 9);
    take.cues = {{0, cut::Cue::leadIn}, {at(5), cut::Cue::band}, {at(8), cut::Cue::lift}};
    take.marks = {at(6)};
    take.deeds = {{at(4), [](Processor& p) {
                       auto state = p.state();
                       state.live.land_add_um = 6;
                       p.setState(state);
                   }}};
    test::play(processor, take);
    CHECK(processor.service().note(1, {NAN, "good take", log::utcNow()}));
    CHECK_FALSE(processor.service().note(2, {NAN, "of a cut to come", log::utcNow()}));
    finish(processor);
    const auto logged = log::BookReader(book).cut(1);
    REQUIRE(logged.events.size() == 2);
    CHECK(logged.events[0].kind == "ride");
    CHECK(logged.events[0].what == "land_add_um");
    CHECK(logged.events[0].value == 6);
    CHECK(logged.events[1].kind == "cue");
    CHECK(logged.events[1].what == "band");
    CHECK(logged.events[1].time_s - logged.events[0].time_s == Approx(1).margin(0.02));
    for (const auto& event : logged.events)
        CHECK(event.time_s
              == Approx(logged.frames[static_cast<std::size_t>(event.beforeFrame) - 1].time_s).margin(1e-6));
    REQUIRE(logged.notes.size() == 2);
    const auto mark = logged.notes[0].isMark() ? 0u : 1u;
    CHECK(logged.notes[mark].time_s - logged.events[1].time_s == Approx(1).margin(0.004));
    CHECK(logged.notes[1 - mark].text == "good take");
    CHECK(std::isnan(logged.notes[1 - mark].time_s));
}

TEST_CASE("A preview shorter than the run-up: the stylus waits for the carriage, and the lead-in is whole",
          "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::randomProgram(72, 3));
    Processor processor;
    test::Kept kept;
    auto state = processor.state();
    state.cut = test::quickSide();
    state.cut.preview_s = 0.1;
    processor.setState(state);
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
    {
        FileCut cut(processor, wav, 0);
        waitFor(cut);
    }
    processor.service().setJournal(nullptr);
    REQUIRE_FALSE(kept.frames.empty());
    const auto program = std::find_if(kept.frames.begin(), kept.frames.end(),
                                      [](const auto& f) { return f.state == cut::State::program; });
    const auto heard = std::find_if(kept.frames.begin(), kept.frames.end(),
                                    [](const auto& f) { return std::isfinite(f.peak_dbfs); });
    CHECK(program == heard);
    CHECK(kept.ends == std::vector{handoff::CutEnd::finished});
}

TEST_CASE("In real time a second takes a second, and can be stopped", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::silence(30));
    Processor processor;
    test::Kept kept;
    test::setUp(processor, test::quickSide());
    processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
    const auto begun = std::chrono::steady_clock::now();
    {
        FileCut cut(processor, wav, 1);
        std::this_thread::sleep_for(std::chrono::milliseconds(1500));
        CHECK_FALSE(cut.isDone());
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begun;
    processor.service().step();
    REQUIRE_FALSE(kept.frames.empty());
    // The stylus is down a preview (0.77 s) after the beginning; what is cut by then is no more than the time there was.
    const auto& s = kept.begun.front().cut;
    CHECK(kept.frames.back().turn * s.turn_s() <= took.count() - s.preview_s + 0.05);
    CHECK(kept.frames.back().turn > 0.1);
    CHECK(kept.ends == std::vector{handoff::CutEnd::lifted});
    processor.service().setJournal(nullptr);
}

TEST_CASE("Lifted by hand, the file's cut is over", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::silence(30));
    Processor processor;
    test::setUp(processor, test::quickSide());
    {
        FileCut cut(processor, wav, 4);
        std::this_thread::sleep_for(std::chrono::milliseconds(600));
        processor.cue(cut::Cue::lift);
        waitFor(cut);
        CHECK(cut.fraction() < 0.9);
    }
    processor.service().step();
    CHECK(processor.service().report().status.lastEnd == handoff::CutEnd::lifted);
    CHECK(processor.service().report().status.unheededCues == 0);
}

TEST_CASE("A device that is started or stopped meanwhile does not disturb the file's cut", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::randomProgram(73, 6));
    const auto cutWith = [&](const std::function<void(Processor&)>& meanwhile) {
        Processor processor;
        test::Kept kept;
        test::setUp(processor, test::quickSide());
        processor.service().setJournal(std::make_unique<test::KeepingJournal>(kept));
        processor.setRateAndBufferSizeDetails(48000, 512);
        processor.prepareToPlay(48000, 512);
        {
            FileCut cut(processor, wav, 0);
            meanwhile(processor);
            waitFor(cut);
        }
        CHECK(processor.getLatencySamples()
              == std::lround(test::quickSide().preview_s * 48000)); // the device's
        processor.service().setJournal(nullptr);
        return kept;
    };
    const auto calm = cutWith([](Processor&) {});
    const auto disturbed = cutWith([](Processor& p) {
        p.releaseResources();
        p.prepareToPlay(96000, 64);
    });
    REQUIRE(calm.frames.size() > 1000);
    CHECK(test::sameBits(disturbed.frames, calm.frames));
    CHECK(disturbed.ends == calm.ends);
}

TEST_CASE("A side too long ends where the disc does, live as in the tool, and the book says why",
          "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("long.wav"), tool = folder.path("tool.headland"),
               live = folder.path("live.headland");
    writeWav(wav, test::randomProgram(75, 60));
    const auto radius_mm = 58.0;
    runTool(wav, {"--book", tool, "--set", "start_radius_mm=" + juce::String(radius_mm + 3), "--set",
                  "pitch_min_um=100"});
    Processor processor;
    setUpAsTool(processor);
    auto state = processor.state();
    state.cut.start_radius_mm = radius_mm + 3;
    state.cut.pitch_min_um = 100;
    processor.setState(state);
    logInto(processor, live);
    {
        FileCut cut(processor, wav, 0);
        waitFor(cut);
        CHECK(cut.failure().empty());
    }
    finish(processor);
    const auto byTool = log::BookReader(tool).cut(1), byHand = log::BookReader(live).cut(1);
    for (const auto* logged : {&byTool, &byHand}) {
        REQUIRE(logged->tail);
        CHECK(logged->tail->ending == "ended as a fault: the disc ended before the program");
        CHECK(logged->tail->isFault);
        CHECK(logged->frames.back().state == cut::State::finishing);
        for (const auto& frame : logged->frames)
            REQUIRE(frame.radius_mm > 52.8); // 106.4 − 0.8 mm in diameter: IEC 60098:1987, 8.9 (second-hand)
    }
    const auto same = csvOf(byHand.frames) == csvOf(byTool.frames);
    CHECK(same);
}

TEST_CASE("A fault is in the book", "[file-cut]") {
    const Folder folder;
    const auto book = folder.path("live.headland");
    Processor processor;
    test::setUp(processor, test::quickSide());
    logInto(processor, book);
    test::Take take;
    take.program = test::randomProgram(74, 3);
    take.cues = {{0, cut::Cue::leadIn}};
    test::play(processor, take);
    processor.prepareToPlay(96000, 512);
    finish(processor);
    const auto logged = log::BookReader(book).cut(1);
    REQUIRE(logged.tail);
    CHECK(logged.tail->isFault);
    CHECK_THAT(logged.tail->ending, Catch::Contains("sample rate changed with the stylus down"));
    CHECK(logged.head.sampleRate_hz == 44100);
    CHECK_FALSE(logged.head.program);
    CHECK(logged.frames.size() > 300);
}

TEST_CASE("What cannot be cut is refused before anything begins, and the device has the processor back",
          "[file-cut]") {
    const Folder folder;
    Processor processor;
    processor.prepareToPlay(48000, 512);
    CHECK_THROWS_AS(FileCut(processor, folder.path("none.wav"), 0), files::InputError);
    CHECK_FALSE(processor.isSuspended());
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::silence(2));
    auto state = processor.state();
    state.cut.pitch_max_um = 55;
    processor.setState(state);
    CHECK_THROWS_WITH(FileCut(processor, wav, 0), Catch::Contains("pitch_max_um"));
    CHECK_FALSE(processor.isSuspended());
    CHECK(processor.service().report().status.cuts == 0);
}

TEST_CASE("A book that cannot be written is said, and the cut goes on", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::silence(1));
    Processor processor;
    test::setUp(processor, test::quickSide());
    logInto(processor, folder.path("not there/live.headland"));
    {
        FileCut cut(processor, wav, 0);
        waitFor(cut);
        CHECK(cut.failure().empty());
    }
    processor.service().step();
    auto report = processor.service().report();
    CHECK_THAT(report.journalTrouble, Catch::Contains("not there") && Catch::Contains("wait in memory"));
    CHECK(report.status.cuts == 1);
    CHECK(report.status.lastEnd == handoff::CutEnd::finished);
    // With another book the first one is kept for as long as it has not taken all, and takes it when it can.
    processor.chooseBook({folder.path("other.headland"), {}});
    processor.service().step();
    CHECK_THAT(processor.service().report().journalTrouble, Catch::Contains("not there"));
    folder.place.getChildFile("not there").createDirectory();
    for (int i = 0; i < 500 && !processor.service().report().journalTrouble.empty(); ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    CHECK(processor.service().report().journalTrouble.empty());
    finish(processor);
    CHECK(log::BookReader(folder.path("not there/live.headland")).cut(1).tail->ending == "finished");
}
