// SPDX-License-Identifier: GPL-3.0-or-later
// The processor on its own, without a sound device: files cut and logged, what is chosen kept, what will not do refused.
#include "Assembly/Station.h"

#include "Cut/SettingsTable.h"
#include "Editor/SetupUndo.h"
#include "Editor/Window.h"
#include "Editor/Words.h"
#include "Log/BookReader.h"
#include "Log/BookWriter.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Support/AsLogged.h"
#include "Tests/Support/Wav.h"
#include "Text/Figures.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <cmath>
#include <filesystem>
#include <functional>
#include <optional>
#include <sys/stat.h>
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

    /// Cuts as fast as possible until the cut is held at that program time.
    void cutUntilHeldAt(double time_s) {
        REQUIRE(access().openFile(wav(40)).empty());
        REQUIRE(access().cutFile(0).empty());
        station->holdAt(time_s);
        for (int i = 0; i < 3000 && !station->isHeld(); ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        REQUIRE(station->isHeld());
    }

    /// Cuts in real time until the program is under the stylus.
    void cutIntoProgram() {
        REQUIRE(access().openFile(wav(60)).empty());
        REQUIRE(access().cutFile(1).empty());
        for (int i = 0; i < 1000 && access().look().status.state != cut::State::program; ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        REQUIRE(access().look().status.state == cut::State::program);
    }
    /// Ends it; all that can be is in its book then.
    void stop() {
        access().stopFile();
        REQUIRE(station->finishBook(std::chrono::seconds(10)).empty());
    }
    /// How the window sees the file when it has been rehearsed.
    editor::FileState rehearsed() {
        access().look();
        for (int i = 0; i < 3000 && station->isRehearsing(); ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        return access().look().file;
    }
    std::string book(const char* name = "lantern.headland") const { return folder.path(name); }

    juce::ScopedJuceInitialiser_GUI juceIsUp;
    test::Folder folder;
    std::unique_ptr<Station> station;
};

} // namespace

TEST_CASE("Nothing is listened to without sound, or with the stylus down, and it is said why") {
    Rig rig;
    CHECK(rig.access().listen(true).find("Nothing comes in yet") == 0);
    CHECK_FALSE(rig.access().look().listening.isOn);
    CHECK(rig.access().listen(false).empty()); // nothing to end
    rig.cutIntoProgram();
    CHECK(rig.access().listen(true).find("The stylus is down") == 0);
    rig.stop();
}

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
    CHECK(rig.access().logInto(rig.book()).empty());
    CHECK(rig.access().nameSide({"Lantern Sessions", "A"}).empty());
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
    CHECK(rig.station->finishBook(std::chrono::seconds(10)).empty());
    CHECK(rig.access().look().log.cut == 1);
    const auto logged = log::BookReader(rig.book()).cut(1);
    CHECK(logged.head.side == log::SideName{"Lantern Sessions", "A"});
    CHECK(logged.head.madeBy == "standalone");
    CHECK(logged.head.program->path == rig.folder.path("program.wav"));
    CHECK(logged.tail->ending == "finished");
    CHECK(static_cast<std::int64_t>(logged.frames.size()) == glimpse.summary.sectors);
}

TEST_CASE("Stopped, the stylus is lifted and the log closed") {
    Rig rig;
    rig.quicken();
    CHECK(rig.access().logInto(rig.book()).empty());
    rig.cutIntoProgram();
    rig.stop();
    const auto glimpse = rig.access().look();
    CHECK(glimpse.status.state == cut::State::up);
    CHECK(glimpse.lastEnd == "lifted");
    CHECK_FALSE(glimpse.file.running);
    const auto logged = log::BookReader(rig.book()).cut(1);
    REQUIRE(logged.tail);
    CHECK(logged.tail->ending == "lifted");
    CHECK_FALSE(logged.tail->isFault);
}

TEST_CASE("A book or a side chosen during a cut is for the next one") {
    Rig rig;
    rig.quicken();
    const auto first = rig.book("first.headland"), second = rig.book("second.headland");
    CHECK(rig.access().logInto(first).empty());
    CHECK(rig.access().nameSide({"Lantern Sessions", "A"}).empty());
    rig.cutIntoProgram();
    CHECK(rig.access().logInto(second).empty());
    CHECK(rig.access().nameSide({"Lantern Sessions", "B"}).empty());
    const auto during = rig.access().look().log;
    CHECK(during.chosen == editor::LogPlace{second, {"Lantern Sessions", "B"}});
    CHECK(during.current == editor::LogPlace{first, {"Lantern Sessions", "A"}});
    rig.stop();
    CHECK(log::BookReader(first).cut(1).head.side.side == "A");
    CHECK_FALSE(juce::File(second).exists());
    rig.cutIntoProgram();
    rig.stop();
    CHECK(log::BookReader(first).cuts().size() == 1);
    CHECK(log::BookReader(second).cut(1).head.side.side == "B");
}

TEST_CASE("Marks and notes land in the book with the time of the stylus") {
    Rig rig;
    rig.quicken();
    CHECK(rig.access().logInto(rig.book()).empty());
    const std::unique_ptr<juce::AudioProcessorEditor> window(rig.station->processor().createEditorIfNeeded());
    auto& desk = dynamic_cast<editor::Window&>(*window).desk();
    const auto waitFor = [&](const std::function<bool()>& done) {
        for (int i = 0; i < 500 && !done(); ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        REQUIRE(done());
    };
    const auto press = [&](char key) { // and wait until it is sure to be no typing
        desk.keyPressed(juce::KeyPress(key));
        desk.keyStateChanged(false);
        std::this_thread::sleep_for(std::chrono::milliseconds(450));
        desk.refresh();
    };
    rig.cutIntoProgram();
    const auto before_s = rig.access().look().status.frame.time_s;
    press('m');
    const auto hasMark = [&] { return !rig.access().look().log.notes.empty(); };
    waitFor(hasMark);
    const auto marked_s = rig.access().look().log.notes.back().time_s;
    const auto opened_s = rig.access().look().status.frame.time_s;
    press('n');
    const auto openedAtMost_s = rig.access().look().status.frame.time_s - 0.4;
    waitFor([&] { return rig.access().look().status.frame.time_s > openedAtMost_s + 0.5; });
    const std::function<juce::Component*(juce::Component&)> findNote =
        [&](juce::Component& in) -> juce::Component* {
        for (auto* child : in.getChildren()) {
            if (child->getComponentID() == "note text")
                return child;
            if (auto* found = findNote(*child))
                return found;
        }
        return nullptr;
    };
    auto* typed = dynamic_cast<juce::TextEditor*>(findNote(desk));
    REQUIRE(typed != nullptr);
    typed->setText("hiss");
    typed->onReturnKey();
    CHECK(rig.access().look().log.notes.back().text == "hiss");
    rig.stop();
    press('n');
    typed->setText("good take");
    typed->onReturnKey();
    REQUIRE(rig.station->finishBook(std::chrono::seconds(10)).empty());
    rig.station->processor().editorBeingDeleted(window.get());
    const auto notes = log::BookReader(rig.book()).cut(1).notes;
    REQUIRE(notes.size() == 3);
    const auto find = [&](const std::string& text) {
        return *std::find_if(notes.begin(), notes.end(), [&](const auto& note) { return note.text == text; });
    };
    CHECK(find("").time_s >= before_s);
    CHECK(find("").time_s <= before_s + 0.25);
    CHECK(find("").time_s == Approx(marked_s).margin(1e-6));
    CHECK(find("hiss").time_s >= opened_s - 1e-6);
    CHECK(find("hiss").time_s <= openedAtMost_s + 1e-6);
    CHECK(std::isnan(find("good take").time_s));
}

TEST_CASE("A mark in a cut that is in no book is counted, and a note refused") {
    Rig rig;
    rig.quicken();
    rig.cutIntoProgram();
    rig.access().mark();
    for (int i = 0; i < 500 && rig.access().look().log.marksNotKept == 0; ++i)
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    auto glimpse = rig.access().look();
    CHECK(glimpse.log.marksNotKept == 1);
    CHECK(glimpse.log.notes.empty());
    CHECK_FALSE(rig.access().note({glimpse.status.cuts, 1.0}, "hiss").empty());
    CHECK(rig.access().logInto(rig.book()).empty()); // for the next one
    CHECK_FALSE(rig.access().note({glimpse.status.cuts, 1.0}, "hiss").empty());
    rig.stop();
    rig.access().mark();
    rig.cutIntoProgram(); // what was asked for with the stylus up is no mark in this
    glimpse = rig.access().look();
    CHECK(glimpse.status.unheededMarks == 1);
    CHECK_FALSE(rig.access().note({glimpse.status.cuts - 1, NAN}, "of the cut before").empty());
    CHECK(rig.access().note({glimpse.status.cuts, 1.0}, "hiss").empty());
    rig.stop();
    const auto notes = log::BookReader(rig.book()).cut(1).notes;
    REQUIRE(notes.size() == 1);
    CHECK(notes[0].text == "hiss");
}

TEST_CASE("What can be seen of a book at once is refused in a sentence") {
    Rig rig;
    const auto refusalOf = [&](const std::string& path) { return rig.access().logInto(path); };
    CHECK_THAT(refusalOf(rig.folder.path("nowhere/lantern.headland")),
               Contains("There is no folder") && Contains("nowhere"));
    CHECK_THAT(refusalOf(rig.folder.place.getFullPathName().toStdString()), Contains("is a folder"));
    const auto text = rig.folder.path("text.headland");
    test::put(text, std::string(5000, 'x'));
    CHECK_THAT(refusalOf(text), Contains("no book of Headland's"));
    const auto whole = rig.book("whole.headland");
    log::BookWriter(whole).opened(std::chrono::seconds(30));
    auto newer = test::contentOf(whole);
    REQUIRE(newer.size() > 100);
    newer[63] = 9; // user_version, as SQLite's file format has it
    const auto newerBook = rig.book("newer.headland");
    test::put(newerBook, newer);
    CHECK_THAT(refusalOf(newerBook), Contains("newer Headland"));
    CHECK(test::contentOf(newerBook) == newer);
    CHECK(rig.access().look().log.chosen.book.empty());
    for (const auto* blank : {"", " "})
        CHECK_THAT(rig.access().nameSide({blank, "A"}), Contains("job has no name"));
    CHECK_THAT(rig.access().nameSide({"Lantern Sessions", ""}), Contains("side has no name"));
    CHECK(rig.access().look().log.chosen.side == log::SideName());
    test::put(rig.book("empty.headland"), "");
    CHECK(refusalOf(rig.book("empty.headland")).empty());
    CHECK(refusalOf(whole).empty());
    CHECK(refusalOf(rig.book()).empty());
    CHECK(rig.access().look().log.chosen.book == rig.book());
}

TEST_CASE("What will not do is refused in a sentence") {
    Rig rig;
    CHECK_THAT(rig.access().cutFile(0), Contains("No program is open"));
    CHECK_THAT(rig.access().openFile(rig.folder.path("none.wav")), Contains("none.wav"));
    CHECK(rig.access().look().file.path.empty());
    CHECK_FALSE(rig.access().loadPreset("no such preset").empty());
    CHECK_FALSE(rig.access().savePreset(rig.folder.path("nowhere/side.json")).empty());
    REQUIRE(rig.access().openFile(rig.wav(1)).empty());
    auto state = rig.station->processor().state();
    state.cut.pitch_max_um = 55;
    rig.station->processor().setState(state);
    CHECK_THAT(rig.access().cutFile(0), Contains("pitch_max_um"));
    CHECK_FALSE(rig.access().look().file.running);
}

TEST_CASE("Set-up, book and side are there again the next time") {
    Rig rig;
    rig.quicken();
    CHECK(rig.access().logInto(rig.book()).empty());
    CHECK(rig.access().nameSide({"Lantern Sessions", "B"}).empty());
    rig.open(); // without having been told to keep anything
    CHECK(rig.station->processor().state().cut.rpm == 78);
    CHECK(rig.access().look().log.chosen == editor::LogPlace{rig.book(), {"Lantern Sessions", "B"}});
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

TEST_CASE("A preset is saved over no program, no book and no program of the book") {
    Rig rig;
    const auto master = rig.wav(1), other = rig.folder.path("other.wav"), hard = rig.folder.path("hard.json");
    test::put(other, "another master");
    std::filesystem::create_hard_link(master, hard);
    {
        log::BookWriter writer(rig.book());
        log::CutHead head;
        head.program = log::ProgramRecord{other, {"other.wav", "WAV", 44100, 2, 1, 1}};
        writer.begin(head);
        REQUIRE(writer.flush(std::chrono::seconds(30)));
    }
    REQUIRE(rig.access().openFile(master).empty());
    REQUIRE(rig.access().logInto(rig.book()).empty());
    for (const auto& path : {master, hard, other, rig.book(), rig.book() + "-wal"}) {
        INFO(path);
        CHECK_THAT(rig.access().savePreset(path), Contains("it would take the place of"));
    }
    CHECK(test::contentOf(other) == "another master");
    CHECK(test::contentOf(hard) == test::contentOf(master));
}

TEST_CASE("A pipe is no book, and nobody waits for it") {
    Rig rig;
    const auto pipe = rig.book("pipe.headland");
    REQUIRE(::mkfifo(pipe.c_str(), 0600) == 0);
    CHECK_THAT(rig.access().logInto(pipe), Contains("it is a pipe or a device"));
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
    CHECK(rig.access().look().cautions.empty());
    CHECK_FALSE(rig.station->mayQuit());
    REQUIRE(rig.access().look().cautions.size() == 1);
    CHECK_THAT(rig.access().look().cautions[0], Contains("lift it before you quit"));
    CHECK(rig.station->mayQuit());
    rig.access().stopFile();
    rig.station->processor().service().step();
    CHECK(rig.access().look().cautions.empty());
}

TEST_CASE("While a cut waits for its book the first wish to quit is answered in words") {
    Rig rig;
    rig.quicken();
    REQUIRE(log::BookWriter(rig.book()).opened(std::chrono::seconds(30)));
    CHECK(rig.access().logInto(rig.book()).empty());
    std::optional<log::Database> other(std::in_place, rig.book(), log::Database::Access::write, 1000);
    std::optional<log::Transaction> hold(std::in_place, *other); // nobody else can write
    REQUIRE(rig.access().openFile(rig.wav(2)).empty());
    REQUIRE(rig.access().cutFile(0).empty());
    rig.cutWhole();
    CHECK(rig.access().look().lastEnd == "finished");
    CHECK_FALSE(rig.station->mayQuit());
    CHECK_THAT(text::joined(rig.access().look().troubles),
               Contains("lantern.headland") && Contains("not in it") && Contains("once more to quit"));
    CHECK(rig.station->mayQuit());
    CHECK_FALSE(rig.station->finishBook(std::chrono::milliseconds(10)).empty());
    hold.reset();
    other.reset();
    CHECK(rig.station->finishBook(std::chrono::seconds(10)).empty());
    CHECK(rig.access().look().troubles.empty());
    CHECK(rig.station->mayQuit());
    CHECK(log::BookReader(rig.book()).cut(1).tail->ending == "finished");
}

TEST_CASE("Every parameter but the cue is a field, what is ridden as such") {
    Rig rig;
    const auto fields = rig.access().fields();
    CHECK(static_cast<int>(fields.size()) == rig.station->processor().getParameters().size() - 1);
    std::vector<std::string> ridden;
    for (const auto& field : fields) {
        CHECK(field.value != nullptr);
        CHECK_FALSE(field.does.empty());
        if (field.isRidden)
            ridden.emplace_back(field.key);
    }
    CHECK(ridden == std::vector<std::string>{"land_add_um", "depth_add_um", "level_trim_db"});
}

TEST_CASE("Typed, undone, kept and cut, a value stays the same to the last bit") {
    Rig rig;
    const auto field = [&](std::string_view key) {
        for (const auto& each : rig.access().fields())
            if (each.key == key)
                return each;
        throw std::runtime_error(std::string(key));
    };
    const auto type = [&](std::string_view key, const char* text) {
        const auto read = editor::readTyped(field(key), text, editor::Units::metric);
        REQUIRE(read.refusal.empty());
        field(key).value->set(read.value);
    };
    type("rpm", "78");
    editor::SetupUndo undo(rig.access());
    type("rpm", "66 2/3");
    type("end_radius_mm", "60,325");
    type("preview_s", "0.90000000000000013");
    undo.note();
    type("rpm", "45");
    type("end_radius_mm", "61");
    undo.note();
    CHECK_THAT(undo.undo(editor::Units::metric), Contains("Undone"));
    // As the tool has them from --set.
    cut::CutSettings expected;
    const std::pair<const char*, const char*> sets[] = {
        {"rpm", "66 2/3"}, {"end_radius_mm", "60.325"}, {"preview_s", "0.90000000000000013"}};
    for (const auto& [key, text] : sets)
        REQUIRE_FALSE(cut::setFromText(expected, key, text).has_value());
    CHECK(expected.rpm == 200.0 / 3);
    const auto same = [&](const cut::CutSettings& settings,
                          const std::vector<std::string_view>& except = {}) {
        for (const auto& setting : cut::settingsTable())
            if (std::find(except.begin(), except.end(), setting.key) == except.end()) {
                INFO(setting.key);
                CHECK(cut::getNumber(settings, setting) == cut::getNumber(expected, setting));
            }
    };
    same(rig.station->processor().state().cut);
    rig.station->keep();
    rig.open();
    same(rig.station->processor().state().cut);
    const auto preset = rig.folder.path("typed.json");
    REQUIRE(rig.access().savePreset(preset).empty());
    type("rpm", "45");
    type("end_radius_mm", "61");
    REQUIRE(rig.access().loadPreset(preset).empty());
    same(rig.station->processor().state().cut);
    CHECK(rig.access().logInto(rig.book()).empty());
    REQUIRE(rig.access().openFile(rig.wav(3)).empty());
    REQUIRE(rig.access().cutFile(0).empty());
    rig.cutWhole();
    CHECK(rig.station->finishBook(std::chrono::seconds(10)).empty());
    same(log::BookReader(rig.book()).cut(1).head.settings, {"side_length_s"}); // of the file
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

TEST_CASE("A file's cut is held at a time, looked at meanwhile, and goes on faster") {
    Rig rig;
    rig.quicken();
    rig.cutUntilHeldAt(5);
    const auto held_s = rig.access().look().status.frame.time_s;
    CHECK(held_s == Approx(5).margin(0.05));
    CHECK(rig.access().look().file.paused);
    std::this_thread::sleep_for(std::chrono::milliseconds(100));
    CHECK(rig.access().look().status.frame.time_s == held_s);
    // Whoever looks while it is held gets what is coming now, not what came before.
    plan::Foresight coming;
    for (int i = 0; i < 300 && !(coming.time_s >= held_s); ++i) {
        rig.access().foresee(coming);
        std::this_thread::sleep_for(std::chrono::milliseconds(10));
    }
    CHECK(coming.time_s == Approx(held_s).margin(0.01));
    const auto groove = rig.access().grooveAtStylus(0.8);
    REQUIRE(groove);
    CHECK(groove->time_s == Approx(held_s).margin(0.01));
    CHECK(rig.access().news(0, 0).frames.back().time_s == held_s);
    rig.access().setFileSpeed(0);
    rig.access().pauseFile(false);
    rig.cutWhole();
    CHECK(rig.access().look().lastEnd == "finished");
}

TEST_CASE("A cue is heeded while the cut is held, and ends the holding") {
    Rig rig;
    rig.quicken();
    rig.cutUntilHeldAt(5);
    rig.access().cue(cut::Cue::lift);
    rig.cutWhole();
    CHECK(rig.access().look().lastEnd == "lifted");
    CHECK(rig.access().look().status.frame.time_s == Approx(5).margin(0.1));
}

TEST_CASE("The side of an open file is rehearsed with the set-up as it is, and is what is cut then") {
    Rig rig;
    rig.quicken();
    CHECK(rig.access().rehearsal() == nullptr);
    REQUIRE(rig.access().openFile(rig.wav(6)).empty());
    const auto rehearse = [&] {
        rig.access().look();
        for (int i = 0; i < 3000 && rig.station->isRehearsing(); ++i)
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        return rig.access().rehearsal();
    };
    const auto first = rehearse();
    REQUIRE(first != nullptr);
    auto state = rig.station->processor().state();
    state.cut.depth_basic_um = 40; // silence asks for more room then
    rig.station->processor().setState(state);
    const auto second = rehearse();
    REQUIRE(second != nullptr);
    CHECK(second->frames().back().depth_um == Approx(40));
    CHECK(second != first);
    CHECK(rehearse() == second); // nothing was changed
    REQUIRE(rig.access().cutFile(0).empty());
    rig.cutWhole();
    const auto cut = rig.access().news(0, 0);
    REQUIRE(cut.frames.size() == second->frames().size());
    CHECK(test::asLogged(cut.frames.back()).radius_mm == second->frames().back().radius_mm);
    CHECK(test::asLogged(cut.frames[1000]).pitch_um == second->frames()[1000].pitch_um);
}

TEST_CASE("Files that were open are offered again, the last one first, also the next time") {
    Rig rig;
    CHECK(rig.access().recentFiles().empty());
    const auto first = rig.folder.path("first.wav"), second = rig.folder.path("second.wav");
    test::writeWav(first, test::silence(1));
    test::writeWav(second, test::silence(1));
    REQUIRE(rig.access().openFile(first).empty());
    REQUIRE(rig.access().openFile(second).empty());
    CHECK(rig.access().recentFiles() == std::vector<std::string>{second, first});
    CHECK_FALSE(rig.access().openFile(rig.folder.path("nothing.wav")).empty());
    rig.open();
    CHECK(rig.access().recentFiles() == std::vector<std::string>{second, first});
    juce::File(first).deleteFile();
    CHECK(rig.access().recentFiles() == std::vector<std::string>{second});
}

TEST_CASE("What a rehearsal says is the tool's verdict, old at once when the set-up changes, and why there "
          "is none") {
    Rig rig;
    rig.quicken();
    REQUIRE(rig.access().openFile(rig.wav(6)).empty());
    const auto rehearsed = [&] { return rig.rehearsed(); };
    auto file = rehearsed();
    CHECK_THAT(file.rehearsed, Contains("The side can be cut: it ends at "));
    CHECK_FALSE(file.rehearsedIsScrap);
    CHECK_FALSE(file.rehearsedIsOld);
    const auto first = file.rehearsed;

    auto state = rig.station->processor().state();
    state.cut.start_radius_mm = 120;
    rig.station->processor().setState(state);
    file = rig.access().look().file; // at once
    CHECK(file.rehearsed == first);
    CHECK(file.rehearsedIsOld);
    file = rehearsed();
    CHECK_FALSE(file.rehearsedIsOld);
    CHECK(file.rehearsed != first);

    state.cut.end_radius_mm = 119.99; // six seconds do not fit
    rig.station->processor().setState(state);
    file = rehearsed();
    CHECK(file.rehearsedIsScrap);
    CHECK_THAT(file.rehearsed, Contains("The side cannot be cut: it does not fit, by "));

    const auto scrap = file.rehearsed;
    auto impossible = state;
    impossible.cut.pitch_max_um = 55; // below the least: cannot be cut with, nor rehearsed
    rig.station->processor().setState(impossible);
    const auto glimpse = rig.access().look();
    REQUIRE_FALSE(glimpse.problems.empty());
    CHECK(glimpse.file.rehearsed == scrap);
    CHECK(glimpse.file.rehearsedIsOld);
    CHECK(glimpse.file.rehearsing == 1);
    rig.station->processor().setState(state);
    file = rehearsed();
    CHECK_FALSE(file.rehearsedIsOld);

    const auto other = rig.folder.path("other.wav");
    test::writeWav(other, test::silence(1));
    REQUIRE(rig.access().openFile(other).empty());
    CHECK(rig.access().look().file.rehearsed.empty()); // of another program there is nothing to be said
    rehearsed();
    juce::File(other).replaceWithText("no sound");
    state.cut.end_radius_mm = 60;
    rig.station->processor().setState(state);
    file = rehearsed();
    CHECK(file.rehearsedIsScrap);
    CHECK_THAT(file.rehearsed, Contains("other.wav"));
}

TEST_CASE("A file is cut with what its rehearsal has heard, if there was time for one") {
    Rig rig;
    rig.quicken();
    const auto path = rig.folder.path("music.wav");
    test::writeWav(path, test::randomProgram(5, 12));
    REQUIRE(rig.access().openFile(path).empty());
    REQUIRE(rig.access().cutFile(0).empty()); // at once
    rig.cutWhole();
    CHECK_FALSE(rig.access().look().status.rehearsal.wasGiven);
    rig.rehearsed();
    const auto expected = rig.access().rehearsal();
    REQUIRE(expected != nullptr);
    REQUIRE(rig.access().cutFile(0).empty());
    rig.cutWhole();
    const auto glimpse = rig.access().look();
    CHECK(glimpse.status.rehearsal.wasUsed);
    CHECK_FALSE(glimpse.status.rehearsal.isDropped);
    CHECK(glimpse.summary.endDiameter_mm == Approx(expected->summary().endDiameter_mm).margin(1e-4));
    CHECK(glimpse.summary.sectors == expected->summary().sectors);
    auto state = rig.station->processor().state();
    state.cut.highpass_hz += 2; // what was heard is not what will be cut
    rig.station->processor().setState(state);
    REQUIRE(rig.access().cutFile(0).empty());
    rig.cutWhole();
    CHECK(rig.access().look().status.rehearsal.wasGiven);
    CHECK_FALSE(rig.access().look().status.rehearsal.wasUsed);
}

TEST_CASE("What is ridden begins at zero with every program and ends with its side, and the window says so") {
    Rig rig;
    rig.quicken();
    const auto ride = [&](double land_um) {
        auto state = rig.station->processor().state();
        state.live.land_add_um = land_um;
        rig.station->processor().setState(state);
    };
    const auto landAdd_um = [&] { return rig.station->processor().state().live.land_add_um; };
    const auto notices = [&] { return text::joined(rig.access().look().notices); };
    ride(7.5);
    CHECK(landAdd_um() == 7.5);
    CHECK_THAT(notices(), !Contains("ridden"));
    REQUIRE(rig.access().openFile(rig.wav(60)).empty());
    CHECK(landAdd_um() == 0);
    CHECK_THAT(notices(), Contains("ridden begins at zero") && Contains("Land add was 7.5 µm"));
    rig.cutIntoProgram();
    CHECK_THAT(notices(), !Contains("ridden")); // known by now
    ride(4);
    rig.access().look();
    CHECK(landAdd_um() == 4); // the stylus is down: it is the engineer's
    juce::MemoryBlock session;
    rig.station->processor().getStateInformation(session);
    ride(5);
    rig.station->processor().setStateInformation(session.getData(), static_cast<int>(session.getSize()));
    CHECK(landAdd_um() == 5); // a session that is loaded moves no groove
    rig.stop();
    CHECK_THAT(notices(), Contains("the side it was ridden for is over") && Contains("Land add was 5 µm"));
    CHECK(landAdd_um() == 0);
    ride(3); // for the next side, as the stylus is up
    rig.access().look();
    CHECK(landAdd_um() == 3);
}
