// SPDX-License-Identifier: GPL-3.0-or-later
// The processor on its own, without a sound device: files cut and logged, what is chosen kept, what will not do refused.
#include "Assembly/Station.h"

#include "Tests/Support/Wav.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <thread>

using namespace headland;
using assembly::Station;
using Catch::Contains;

namespace {

/// A station whose settings lie in a folder that goes with the test. Sides are short: 78 rpm.
struct Rig {
    Rig() { open(); }

    void open() {
        station.reset();
        station = std::make_unique<Station>(juce::File(folder.path("kept.settings")), false);
    }
    editor::Access& access() { return station->access(); }
    void quicken() {
        auto state = station->processor().state();
        state.cut.rpm = 78;
        state.cut.preview_s = 0.8;
        station->processor().setState(state);
    }
    std::string wav(double length_s) {
        const auto path = folder.path("program.wav");
        test::writeWav(path, test::silence(length_s));
        return path;
    }
    void cutWhole() {
        for (int i = 0; i < 3000 && station->isCutting(); ++i) {
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
            station->poll();
        }
        REQUIRE_FALSE(station->isCutting());
    }

    juce::ScopedJuceInitialiser_GUI juceIsUp;
    test::Folder folder;
    std::unique_ptr<Station> station;
};

} // namespace

TEST_CASE("Without a device a station starts, says so, and has the problems of its set-up at once") {
    Rig rig;
    auto glimpse = rig.access().look();
    CHECK_FALSE(glimpse.isFed);
    CHECK(glimpse.problems.empty());
    REQUIRE(glimpse.notices.size() == 1);
    CHECK_THAT(glimpse.notices[0], Contains("no sound device"));
    auto state = rig.station->processor().state();
    state.cut.pitch_max_um = 55;
    rig.station->processor().setState(state);
    glimpse = rig.access().look();
    REQUIRE_FALSE(glimpse.problems.empty());
    CHECK_THAT(glimpse.problems[0], Contains("pitch_max_um"));
    CHECK(glimpse.setup.pitch_max_um == 55);
}

TEST_CASE("A file is opened, cut and logged, and afterwards the window knows how it went") {
    Rig rig;
    rig.quicken();
    CHECK(rig.access().logInto(rig.folder.place.getFullPathName().toStdString()).empty());
    REQUIRE(rig.access().openFile(rig.wav(6)).empty());
    CHECK_THAT(rig.access().look().file.about, Contains("program.wav: WAV") && Contains("0:06"));
    std::string ended = "not yet";
    rig.station->onCutEnd = [&](const std::string& failure) { ended = failure; };
    REQUIRE(rig.access().cutFile(0).empty());
    CHECK(rig.access().look().file.running);
    CHECK(rig.access().look().isFed);
    CHECK_THAT(rig.access().cutFile(0), Contains("being cut already"));
    CHECK_THAT(rig.access().openFile("other.wav"), Contains("stop that"));
    rig.cutWhole();
    CHECK(ended.empty());
    const auto glimpse = rig.access().look();
    CHECK_FALSE(glimpse.file.running);
    CHECK(glimpse.file.fraction == 1);
    CHECK(glimpse.lastEnd == "finished");
    CHECK_FALSE(glimpse.lastEndIsFault);
    CHECK(glimpse.summary.sectors > 1000);
    CHECK(glimpse.summary.verdict() == cut::Verdict::canBeCut);
    CHECK(rig.folder.place.getNumberOfChildFiles(juce::File::findFiles, "cut-*.csv") == 1);
    CHECK(rig.folder.place.getNumberOfChildFiles(juce::File::findFiles, "cut-*.json") == 1);
}

TEST_CASE("Stopped, the stylus is lifted and the log closed") {
    Rig rig;
    rig.quicken();
    CHECK(rig.access().logInto(rig.folder.place.getFullPathName().toStdString()).empty());
    REQUIRE(rig.access().openFile(rig.wav(60)).empty());
    REQUIRE(rig.access().cutFile(1).empty());
    for (int i = 0; i < 500 && rig.access().look().status.state == cut::State::up; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    REQUIRE(rig.access().look().status.state != cut::State::up);
    rig.access().stopFile();
    rig.station->processor().service().step();
    const auto glimpse = rig.access().look();
    CHECK(glimpse.status.state == cut::State::up);
    CHECK(glimpse.lastEnd == "lifted");
    CHECK_FALSE(glimpse.file.running);
    CHECK(rig.folder.place.getNumberOfChildFiles(juce::File::findFiles, "cut-*.csv") == 1);
}

TEST_CASE("A folder chosen during a cut is for the next one") {
    Rig rig;
    rig.quicken();
    const auto first = rig.folder.place.getChildFile("first"),
               second = rig.folder.place.getChildFile("second");
    REQUIRE(first.createDirectory().wasOk());
    REQUIRE(second.createDirectory().wasOk());
    CHECK(rig.access().logInto(first.getFullPathName().toStdString()).empty());
    REQUIRE(rig.access().openFile(rig.wav(60)).empty());
    REQUIRE(rig.access().cutFile(1).empty());
    for (int i = 0; i < 500 && rig.access().look().summary.sectors == 0; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    CHECK(rig.access().logInto(second.getFullPathName().toStdString()).empty());
    rig.access().stopFile();
    rig.station->processor().service().step();
    CHECK(first.getNumberOfChildFiles(juce::File::findFiles, "cut-*.csv") == 1);
    CHECK(second.getNumberOfChildFiles(juce::File::findFiles, "cut-*.csv") == 0);
    CHECK(rig.access().look().logFolder == second.getFullPathName().toStdString());
}

TEST_CASE("What will not do is refused in a sentence") {
    Rig rig;
    CHECK_THAT(rig.access().cutFile(0), Contains("No program is open"));
    CHECK_THAT(rig.access().openFile(rig.folder.path("none.wav")), Contains("none.wav"));
    CHECK(rig.access().look().file.path.empty());
    CHECK_THAT(rig.access().logInto(rig.folder.path("nowhere")), Contains("is no folder"));
    CHECK(rig.access().look().logFolder.empty());
    CHECK_FALSE(rig.access().loadPreset("no such preset").empty());
    CHECK_FALSE(rig.access().savePreset(rig.folder.path("nowhere/side.json")).empty());
    REQUIRE(rig.access().openFile(rig.wav(1)).empty());
    auto state = rig.station->processor().state();
    state.cut.pitch_max_um = 55;
    rig.station->processor().setState(state);
    CHECK_THAT(rig.access().cutFile(0), Contains("pitch_max_um"));
    CHECK_FALSE(rig.access().look().file.running);
}

TEST_CASE("Set-up and folder of the log are there again the next time") {
    Rig rig;
    rig.quicken();
    CHECK(rig.access().logInto(rig.folder.place.getFullPathName().toStdString()).empty());
    rig.station->keep();
    rig.open();
    CHECK(rig.station->processor().state().cut.rpm == 78);
    CHECK(rig.access().look().logFolder == rig.folder.place.getFullPathName().toStdString());
    CHECK(rig.access().look().troubles.empty());
}

TEST_CASE("A preset saved in the window reads back") {
    Rig rig;
    rig.quicken();
    const auto path = rig.folder.path("side.json");
    CHECK(rig.access().savePreset(path).empty());
    CHECK(rig.access().loadPreset("30cm-33").empty());
    CHECK(rig.station->processor().state().cut.rpm == Approx(100.0 / 3));
    CHECK(rig.access().loadPreset(path).empty());
    CHECK(rig.station->processor().state().cut.rpm == 78);
}

TEST_CASE("With the stylus down the first wish to quit is answered in words") {
    Rig rig;
    rig.quicken();
    CHECK(rig.station->mayQuit());
    rig.open();
    rig.quicken();
    REQUIRE(rig.access().openFile(rig.wav(60)).empty());
    REQUIRE(rig.access().cutFile(1).empty());
    for (int i = 0; i < 500 && rig.access().look().status.state == cut::State::up; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    CHECK(rig.access().look().troubles.empty());
    CHECK_FALSE(rig.station->mayQuit());
    REQUIRE(rig.access().look().troubles.size() == 1);
    CHECK_THAT(rig.access().look().troubles[0], Contains("lift it before you quit"));
    CHECK(rig.station->mayQuit());
    rig.access().stopFile();
    rig.station->processor().service().step();
    CHECK(rig.access().look().troubles.empty());
}

TEST_CASE("Every parameter but the cue is a field, what is ridden as such") {
    Rig rig;
    const auto fields = rig.access().fields();
    CHECK(static_cast<int>(fields.size()) == rig.station->processor().getParameters().size() - 1);
    std::vector<std::string> ridden;
    for (const auto& field : fields) {
        CHECK(field.parameter != nullptr);
        CHECK_FALSE(field.does.empty());
        if (field.isRidden)
            ridden.emplace_back(field.key);
    }
    CHECK(ridden == std::vector<std::string>{"land_add_um", "depth_add_um", "level_trim_db"});
}

TEST_CASE("The plug-in's processor has a window, which may be closed and opened again") {
    const juce::ScopedJuceInitialiser_GUI juceIsUp;
    const auto processor = assembly::makeProcessor();
    REQUIRE(processor->hasEditor());
    for (int i = 0; i < 2; ++i) {
        const std::unique_ptr<juce::AudioProcessorEditor> window(processor->createEditorIfNeeded());
        REQUIRE(window != nullptr);
        CHECK(window->getWidth() >= 900);
        processor->editorBeingDeleted(window.get());
    }
}

TEST_CASE("OSC goes to the address that was typed, and what is none is refused") {
    Rig rig;
    CHECK(rig.access().oscHost() == "127.0.0.1");
    CHECK(rig.access().sendOscTo("192.0.2.7").empty());
    CHECK(rig.station->processor().state().oscHost == "192.0.2.7");
    for (const auto* wrong : {"", "no address", "127.0.0.1:9000", "osc://somewhere"})
        CHECK_THAT(rig.access().sendOscTo(wrong), Contains("is no address"));
    CHECK(rig.access().oscHost() == "192.0.2.7");
}
