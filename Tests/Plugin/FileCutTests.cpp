// SPDX-License-Identifier: GPL-3.0-or-later
// A program file cut through the processor without a device, against what the command-line tool writes, and the log of it.
#include "Files/Errors.h"
#include "Log/CsvWriter.h"
#include "Plugin/FileCut.h"
#include "Plugin/FolderJournal.h"
#include "Tests/Plugin/HostRig.h"
#include "Tests/Support/SameFrames.h"
#include "Tests/Support/Wav.h"

#include <chrono>
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

juce::Array<juce::File> logsIn(const Folder& folder, const char* pattern) {
    return folder.place.findChildFiles(juce::File::findFiles, false, pattern);
}

} // namespace

TEST_CASE("A file cut through the processor logs the very rows of the command-line tool", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::randomProgram(71, 12));
    const auto csv = folder.path("tool.txt"); // no .csv: the log's own are looked for below
    juce::ChildProcess tool;
    juce::StringArray command{HEADLAND_TOOL, "cut", wav, "--quiet", "--csv", csv};
    for (const auto* set : {"rpm=78", "preview_s=0.8"})
        command.addArray({"--set", set});
    REQUIRE(tool.start(command));
    REQUIRE(tool.waitForProcessToFinish(60000));
    REQUIRE(tool.getExitCode() == 0);

    Processor processor;
    auto state = processor.state();
    state.cut.rpm = 78;
    state.cut.preview_s = 0.8;
    processor.setState(state);
    processor.service().setJournal(
        std::make_unique<plugin::FolderJournal>(folder.place.getFullPathName().toStdString()));
    {
        FileCut cut(processor, wav, 0);
        waitFor(cut);
        CHECK(cut.failure().empty());
        CHECK(cut.fraction() == 1);
        CHECK(cut.program().channels == 2);
    }
    CHECK(processor.service().report().journalTrouble.empty());
    processor.service().setJournal(nullptr);
    const auto logs = logsIn(folder, "cut-*.csv");
    REQUIRE(logs.size() == 1);
    const auto expected = textOf(juce::File(csv));
    REQUIRE(expected.size() > 100000);
    const auto same = textOf(logs[0]) == expected; // without printing either
    CHECK(same);
    const auto sheets = logsIn(folder, "cut-*.json");
    REQUIRE(sheets.size() == 1);
    const auto sheet = juce::JSON::parse(sheets[0]);
    CHECK(sheet["end"].toString() == "finished");
    CHECK_FALSE(static_cast<bool>(sheet["fault"]));
    CHECK(static_cast<double>(sheet["settings"]["rpm"]) == 78);
    CHECK(static_cast<int>(sheet["frames_lost"]) == 0);
    CHECK(sheet["summary"]["turns"].isDouble());
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

TEST_CASE("A fault is in the log", "[file-cut]") {
    const Folder folder;
    Processor processor;
    test::setUp(processor, test::quickSide());
    processor.service().setJournal(
        std::make_unique<plugin::FolderJournal>(folder.place.getFullPathName().toStdString()));
    test::Take take;
    take.program = test::randomProgram(74, 3);
    take.cues = {{0, cut::Cue::leadIn}};
    test::play(processor, take);
    processor.prepareToPlay(96000, 512);
    processor.service().step();
    processor.service().setJournal(nullptr);
    const auto sheets = logsIn(folder, "cut-*.json");
    REQUIRE(sheets.size() == 1);
    const auto sheet = juce::JSON::parse(sheets[0]);
    CHECK(static_cast<bool>(sheet["fault"]));
    CHECK(sheet["end"].toString().contains("sample rate changed with the stylus down"));
    CHECK(static_cast<double>(sheet["sample_rate_hz"]) == 44100);
    REQUIRE(logsIn(folder, "cut-*.csv").size() == 1);
    CHECK(textOf(logsIn(folder, "cut-*.csv")[0]).size() > 50000);
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

TEST_CASE("A folder that cannot be written is said, and the cut goes on", "[file-cut]") {
    const Folder folder;
    const auto wav = folder.path("program.wav");
    writeWav(wav, test::silence(1));
    Processor processor;
    test::setUp(processor, test::quickSide());
    processor.service().setJournal(std::make_unique<plugin::FolderJournal>(folder.path("not there")));
    {
        FileCut cut(processor, wav, 0);
        waitFor(cut);
        CHECK(cut.failure().empty());
    }
    const auto report = processor.service().report();
    CHECK(report.journalTrouble.find("not there") != std::string::npos);
    CHECK(report.status.cuts == 1);
    CHECK(report.status.lastEnd == handoff::CutEnd::finished);
    processor.service().setJournal(nullptr);
}
