// SPDX-License-Identifier: GPL-3.0-or-later
// What hands do, on purpose and by mistake: Escape with anything open, keys that were meant and keys that were typed into
// nothing, files asked for in the window itself.
#include "Editor/FileSheet.h"
#include "Tests/Editor/DeskRig.h"
#include "Tests/Files/TestFolder.h"

#include <catch2/catch.hpp>

#include <array>
#include <functional>

using namespace headland;
using Catch::Contains;
using cut::Cue;
using editor::Keystrokes;
using test::DeskRig;

namespace {

const juce::KeyPress escape(juce::KeyPress::escapeKey);

/// As the system gives a key to what has the keyboard: from there upwards until somebody takes it.
bool pressIn(juce::Component& focused, const juce::KeyPress& key) {
    for (auto* part = &focused; part != nullptr; part = part->getParentComponent())
        if (part->keyPressed(key))
            return true;
    return false;
}

juce::Component* below(juce::Component& in, const juce::String& id) {
    return DeskRig::find(in, id);
}

void visit(juce::Component& in, const std::function<void(juce::Component&)>& each) {
    for (auto* child : in.getChildren()) {
        each(*child);
        visit(*child, each);
    }
}

juce::TextButton& cueButton(DeskRig& rig, std::string_view label) {
    return rig.part<juce::TextButton>("cue " + editor::toJuce(label));
}

/// Nothing lies over it, and nothing else has taken the mouse for itself.
bool isWithinReach(DeskRig& rig, juce::Component& part) {
    auto& desk = rig.desk();
    const auto centre = desk.getLocalPoint(&part, part.getLocalBounds().getCentre());
    return juce::Component::getNumCurrentlyModalComponents() == 0 && desk.getComponentAt(centre) == &part;
}

editor::Glimpse ready() {
    auto glimpse = test::midSide();
    glimpse.status.state = cut::State::up;
    glimpse.file.path = "side.wav";
    return glimpse;
}

const std::string aPath = "/music/Lantern Sessions/Band LOFBPC/cut-off  nml.mpo/ooh.wav";

void put(const std::string& file) {
    test::put(file, "x");
}

editor::FileSheet& fileSheet(DeskRig& rig) {
    auto* sheet = dynamic_cast<editor::FileSheet*>(rig.desk().sheet());
    REQUIRE(sheet != nullptr);
    return *sheet;
}

} // namespace

TEST_CASE("Escape lifts with any sheet open, and closes it, and the button Lift stays within reach") {
    for (const auto& [button, part] :
         {std::pair{"open", "sheet path"}, std::pair{"open", "sheet files"}, std::pair{"open", "sheet picks"},
          std::pair{"load preset", "sheet path"}, std::pair{"save preset", "sheet path"},
          std::pair{"book", "sheet path"}, std::pair{"other book", "sheet files"},
          std::pair{"sound", "sheet"}, std::pair{"sound", "sound part"}}) {
        INFO(button << ", keyboard in " << part);
        DeskRig rig;
        rig.access.recent = {"/music/side.wav"};
        rig.access.hasDevices = true;
        rig.show(ready());
        rig.part<juce::TextButton>(button).onClick();
        REQUIRE(rig.desk().sheet() != nullptr);
        CHECK(rig.desk().sheet()->isVisible());
        CHECK(isWithinReach(rig, cueButton(rig, "Lift")));
        rig.access.glimpse = test::midSide(); // the stylus goes down: by a host, by MIDI
        auto* focused = below(rig.desk(), part);
        REQUIRE(focused != nullptr);
        CHECK(pressIn(*focused, escape));
        CHECK(rig.access.cues == std::vector{Cue::lift});
        CHECK(rig.desk().sheet() == nullptr);
    }
}

TEST_CASE("Escape lifts with a list of choices open, and closes it, and the button Lift stays within reach") {
    DeskRig rig;
    rig.show(test::midSide());
    for (auto* box :
         {&rig.part<editor::ChoiceBox>("speed"),
          dynamic_cast<editor::ChoiceBox*>(rig.part<editor::ValueField>("osc_on").getChildren()[0])}) {
        REQUIRE(box != nullptr);
        rig.access.cues.clear();
        box->showPopup();
        REQUIRE(box->openList() != nullptr);
        CHECK(rig.desk().getLocalBounds().contains(box->openList()->getBounds()));
        CHECK(isWithinReach(rig, cueButton(rig, "Lift")));
        CHECK(pressIn(*box->openList(), escape));
        CHECK(rig.access.cues == std::vector{Cue::lift});
        CHECK(box->openList() == nullptr);
    }
    auto& speed = rig.part<editor::ChoiceBox>("speed");
    CHECK(speed.keyPressed(juce::KeyPress(juce::KeyPress::downKey))); // opens, and changes nothing
    CHECK(rig.access.deeds.empty());
    auto* list = dynamic_cast<editor::TextList*>(speed.openList());
    REQUIRE(list != nullptr);
    CHECK(list->lines().size() == 5);
    list->selectRow(4);
    CHECK(list->keyPressed(juce::KeyPress(juce::KeyPress::returnKey)));
    CHECK(rig.access.deeds == std::vector<std::string>{"speed 0"});
    CHECK(speed.openList() == nullptr);
}

TEST_CASE("A list of choices goes when the keyboard goes elsewhere, and chooses nothing") {
    DeskRig rig;
    rig.show(test::midSide());
    auto& speed = rig.part<editor::ChoiceBox>("speed");
    for (const auto within : {false, true}) {
        speed.showPopup();
        REQUIRE(speed.openList() != nullptr);
        if (within) // from a row of it
            speed.openList()->focusOfChildComponentChanged(juce::Component::focusChangedByMouseClick);
        else
            speed.openList()->focusLost(juce::Component::focusChangedByMouseClick);
        CHECK(speed.openList() == nullptr);
    }
    CHECK(rig.access.deeds.empty());
}

TEST_CASE("A sheet's button closes it, and does nothing else") {
    DeskRig rig;
    rig.access.hasDevices = true;
    rig.show(ready());
    for (const auto* button : {"open", "load preset", "save preset", "book", "sound"}) {
        rig.part<juce::TextButton>(button).onClick();
        REQUIRE(rig.desk().sheet() != nullptr);
        dynamic_cast<juce::TextButton&>(*below(*rig.desk().sheet(), "sheet close")).onClick();
        CHECK(rig.desk().sheet() == nullptr);
    }
    CHECK(rig.access.deeds.empty());
    CHECK(rig.access.cues.empty());
}

TEST_CASE("Escape lifts in every field of the window, and none has a menu that would take it first") {
    DeskRig rig;
    rig.show(test::midSide());
    rig.desk().turnTo(editor::Page::book);
    rig.show(test::loggedMidSide());
    rig.press('n');
    int fields = 0;
    visit(rig.desk(), [&](juce::Component& part) {
        if (auto* box = dynamic_cast<juce::ComboBox*>(&part))
            CHECK(dynamic_cast<editor::ChoiceBox*>(box) != nullptr);
        auto* field = dynamic_cast<juce::TextEditor*>(&part);
        if (field == nullptr || dynamic_cast<juce::ComboBox*>(field->getParentComponent()) != nullptr)
            return;
        INFO(field->getTitle());
        ++fields;
        CHECK_FALSE(field->isPopupMenuEnabled());
        rig.access.cues.clear();
        CHECK(pressIn(*field, escape));
        CHECK(rig.access.cues == std::vector{Cue::lift});
    });
    CHECK(fields >= 7);
}

TEST_CASE("No sheet is opened with the stylus down, and what is open goes when it comes down") {
    DeskRig rig;
    rig.show(ready());
    rig.part<juce::TextButton>("open").onClick();
    REQUIRE(rig.desk().sheet() != nullptr);
    auto lowering = ready();
    lowering.status.lowering = true;
    rig.show(lowering);
    CHECK(rig.desk().sheet() == nullptr);
    for (const auto* button : {"open", "load preset", "save preset", "book", "other book", "sound"}) {
        rig.access.hasDevices = true;
        rig.part<juce::TextButton>(button).onClick();
        CHECK(rig.desk().sheet() == nullptr);
        CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), Contains("The stylus is down"));
    }
}

TEST_CASE("What moves the lathe or drops the stylus needs Shift, or its key twice within a second") {
    const auto given = [](const std::function<void(DeskRig&)>& hands) {
        DeskRig rig;
        rig.show(test::midSide());
        hands(rig);
        rig.wait(3000);
        return rig.access.cues;
    };
    const auto twice = [&](double apart_ms) {
        return given([=](DeskRig& rig) { rig.type("bb", apart_ms); });
    };
    CHECK(given([](DeskRig& rig) { rig.press('b'); }).empty());
    CHECK(given([](DeskRig& rig) { rig.press('B'); }) == std::vector{Cue::band});
    CHECK(twice(120) == std::vector{Cue::band});
    CHECK(twice(990) == std::vector{Cue::band});
    CHECK(twice(1010).empty());
    CHECK(given([](DeskRig& rig) { rig.type("bbbb", 150); }) == std::vector{Cue::band});
    CHECK(given([](DeskRig& rig) { rig.type("bo", 500); }).empty());
    CHECK(given([](DeskRig& rig) { rig.type("bob", 450); }).empty());
    for (const auto& [key, cue] : {std::pair{'P', Cue::program}, std::pair{'O', Cue::leadOut},
                                   std::pair{'F', Cue::finishing}, std::pair{'L', Cue::leadIn}}) {
        DeskRig rig;
        auto glimpse = test::midSide();
        glimpse.status.state = key == 'P' || key == 'L' ? cut::State::leadIn : cut::State::program;
        rig.show(glimpse);
        rig.press(static_cast<char>(key + 'a' - 'A'));
        rig.wait(2000);
        CHECK(rig.access.cues.empty());
        rig.press(key);
        CHECK(rig.access.cues == std::vector{cue});
    }
    DeskRig rig;
    rig.show(ready());
    rig.press('c');
    rig.wait(2000);
    CHECK(rig.access.deeds.empty());
    rig.press('C');
    CHECK(rig.access.deeds == std::vector<std::string>{"cut 1"});
}

TEST_CASE("A first press is shown on its button, and given up by Escape") {
    DeskRig rig;
    rig.show(test::midSide());
    auto& band = cueButton(rig, "Band");
    rig.desk().keyPressed(DeskRig::keyOf('b'));
    rig.desk().keyStateChanged(false);
    rig.wait(500);
    CHECK(band.getButtonText() == "Band: press B again");
    CHECK(cueButton(rig, "Lead-out").getButtonText() == "Lead-out\n[Shift+O]");
    rig.wait(501);
    CHECK(band.getButtonText() == "Band\n[Shift+B]");
    rig.desk().keyPressed(DeskRig::keyOf('B'));
    rig.desk().refresh();
    CHECK(band.getButtonText() == "Band ...");
    rig.desk().keyPressed(escape);
    rig.wait(2000);
    CHECK(rig.access.cues == std::vector{Cue::lift});
    CHECK(band.getButtonText() == "Band\n[Shift+B]");
    rig.show(ready());
    rig.desk().keyPressed(DeskRig::keyOf('c'));
    rig.desk().refresh();
    CHECK(rig.part<juce::TextButton>("go").getButtonText() == "Cut: press C again");
}

TEST_CASE("A path that is typed where no field has the keyboard does nothing, however fast") {
    for (const auto& path :
         {aPath, std::string("C:\\Lacquers\\Band\\Cut.wav"), std::string("Cut 3/side.wav"),
          std::string("unit/mono.wav"), std::string("note.wav"), std::string("mpoblfcn"),
          std::string("llama.wav"), std::string("oops.wav"), std::string("m m m u u n.wav"),
          std::string("/tapes/hamm"), std::string("gunn"), std::string("tabb")})
        for (const auto each_ms : {30.0, 180.0, 390.0})
            for (const auto isDown : {true, false}) {
                INFO(path << ", a key each " << each_ms << " ms, stylus " << (isDown ? "down" : "up"));
                DeskRig rig;
                auto glimpse = isDown ? test::loggedMidSide() : ready();
                glimpse.log = test::loggedMidSide().log;
                rig.show(glimpse);
                const auto units = rig.part<juce::TextButton>("units").getButtonText();
                rig.type(path, each_ms);
                CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), Contains("typed went nowhere"));
                CHECK_FALSE(rig.part<editor::NoteBar>("note bar").isOpen());
                rig.desk().keyPressed(juce::KeyPress(juce::KeyPress::returnKey));
                rig.wait(5000);
                CHECK(rig.access.cues.empty());
                CHECK(rig.access.deeds.empty());
                CHECK(rig.access.marks == 0);
                CHECK(rig.access.marksAt_s.empty());
                CHECK(rig.access.notes.empty());
                CHECK(rig.part<juce::TextButton>("units").getButtonText() == units);
                CHECK_FALSE(rig.part<editor::NoteBar>("note bar").isOpen());
            }
}

TEST_CASE("Return presses no button that moves the lathe or drops the stylus") {
    DeskRig rig;
    rig.show(test::midSide());
    for (const auto& key : editor::cueKeys)
        CHECK_FALSE(cueButton(rig, key.label).getWantsKeyboardFocus());
    CHECK_FALSE(rig.part<juce::TextButton>("go").getWantsKeyboardFocus());
}

TEST_CASE("A key that is held is one press: one mark, and no second press of its own") {
    DeskRig rig;
    rig.show(test::loggedMidSide());
    const auto hold = [&](char key, double long_ms) { // the system repeats it 30 times a second
        rig.desk().keyPressed(DeskRig::keyOf(key));
        for (double at = 500; at < long_ms; at += 33) {
            rig.wait(at == 500 ? 500 : 33);
            rig.desk().keyPressed(DeskRig::keyOf(key));
        }
        rig.desk().keyStateChanged(false);
        rig.wait(2000);
    };
    hold('m', 5000);
    CHECK(rig.access.marksAt_s.size() == 1);
    hold('b', 5000);
    CHECK(rig.access.cues.empty());
    hold('B', 3000);
    CHECK(rig.access.cues == std::vector{Cue::band});
    rig.type("mm", 200); // let go in between
    rig.wait(1000);
    CHECK(rig.access.marksAt_s.size() == 3);
    // A system that tells of letting go between two repeats, as some do: no hand is as quick as that.
    rig.desk().keyPressed(DeskRig::keyOf('m'));
    for (int i = 0; i < 20; ++i) {
        rig.desk().keyStateChanged(false);
        rig.wait(30);
        rig.desk().keyPressed(DeskRig::keyOf('m'));
    }
    rig.wait(2000);
    CHECK(rig.access.marksAt_s.size() == 4);
}

TEST_CASE("Undo and redo have their keys whatever the case the system gives") {
    using juce::KeyPress;
    using Modifiers = juce::ModifierKeys;
    DeskRig rig;
    auto& land = rig.part<editor::ValueField>("land_min_um");
    const auto press = [&](int code, int more = 0) {
        CHECK(rig.press(KeyPress(code, Modifiers(Modifiers::commandModifier | more), 0)));
        return rig.processor.value(3);
    };
    for (const auto& [z, y] : {std::pair{'z', 'y'}, std::pair{'Z', 'Y'}}) {
        INFO(z);
        land.enter("20");
        CHECK(press(z) == Approx(12));
        CHECK(press(y) == Approx(20));
        CHECK(press(z) == Approx(12));
        CHECK(press(z, Modifiers::shiftModifier) == Approx(20));
        land.enter("12");
    }
}

TEST_CASE("Where keys go elsewhere the window says so, and a click brings them back") {
    for (const auto files : {true, false}) {
        DeskRig rig(files);
        rig.show(test::midSide());
        auto& notice = rig.part<editor::KeysNotice>("keys elsewhere");
        CHECK_FALSE(notice.isVisible());
        rig.desk().keyPressed(DeskRig::keyOf('B'));
        rig.desk().noteKeyboard(false);
        CHECK(notice.isVisible());
        CHECK_THAT(notice.getTitle().toStdString(),
                   Contains(files ? "Keys go to another window" : "Keys go to the host")
                       && Contains("click here"));
        CHECK(isWithinReach(rig, cueButton(rig, "Lift")));
        rig.wait(1000); // what was pressed before the keys went counts no more
        CHECK(rig.access.cues.empty());
        REQUIRE(notice.onClick != nullptr);
        notice.onClick();
        rig.desk().noteKeyboard(true);
        CHECK_FALSE(notice.isVisible());
    }
}

TEST_CASE("A path that is typed or pasted is taken by one Return, and its folder is remembered") {
    const test::TestFolder folder;
    std::filesystem::create_directory(folder / "tapes");
    put(folder / "tapes/side a.wav");
    DeskRig rig;
    rig.show(ready());
    const auto open = [&] { rig.part<juce::TextButton>("open").onClick(); };
    open();
    auto* line = dynamic_cast<juce::TextEditor*>(below(fileSheet(rig), "sheet path"));
    REQUIRE(line != nullptr);
    const auto path = folder / "tapes/side a.wav";
    line->setText(" \"" + juce::String(path) + "\" "); // as file managers copy it
    line->onReturnKey();
    CHECK(rig.access.deeds == std::vector<std::string>{"open " + std::string(path)});
    CHECK(rig.desk().sheet() == nullptr);
    open();
    auto* files = dynamic_cast<editor::TextList*>(below(fileSheet(rig), "sheet files"));
    REQUIRE(files != nullptr);
    CHECK(files->lines() == std::vector<std::string>{"..  (the folder above)", "side a.wav"});
    CHECK(files->getRowHeight() >= 28); // letters of 16 px
    files->selectRow(1);
    CHECK(files->keyPressed(juce::KeyPress(juce::KeyPress::returnKey)));
    CHECK(rig.access.deeds.size() == 2);
    CHECK(rig.access.deeds.back() == "open " + std::string(path));
}

TEST_CASE("A chooser goes into folders, shows what can be taken, and says what is not there") {
    const test::TestFolder folder;
    std::filesystem::create_directory(folder / "tapes");
    put(folder / "side.WAV");
    put(folder / "letter.txt");
    put(folder / ".hidden.wav");
    DeskRig rig;
    rig.show(ready());
    rig.access.folderOf("program") = folder.path().string();
    rig.part<juce::TextButton>("open").onClick();
    auto& sheet = fileSheet(rig);
    auto* files = dynamic_cast<editor::TextList*>(below(sheet, "sheet files"));
    CHECK(files->lines() == std::vector<std::string>{"..  (the folder above)", "tapes/", "side.WAV"});
    sheet.enter("tapes");
    CHECK(files->lines().size() == 1);
    sheet.enter("../side.wav");
    CHECK_THAT(sheet.refusal(), Contains("There is no file") && Contains("side.wav"));
    CHECK(rig.access.deeds.empty());
    rig.access.refusal = "side.WAV holds no sound.";
    sheet.enter("../side.WAV");
    CHECK(sheet.refusal() == "side.WAV holds no sound.");
    CHECK(rig.desk().sheet() == &sheet);
    sheet.enter(folder / "nowhere/at/all");
    CHECK_THAT(sheet.refusal(), Contains("There is no file"));
}

TEST_CASE("A preset is written over after a second Return only, and a new one gets its suffix") {
    const test::TestFolder folder;
    put(folder / "mine.json");
    DeskRig rig;
    rig.show(ready());
    rig.access.folderOf("preset") = folder.path().string();
    rig.part<juce::TextButton>("save preset").onClick();
    fileSheet(rig).enter("mine.json");
    CHECK(rig.access.deeds.empty());
    CHECK_THAT(fileSheet(rig).refusal(), Contains("there already") && Contains("once more"));
    fileSheet(rig).enter("mine.json");
    CHECK(rig.access.deeds == std::vector<std::string>{"save " + (folder / "mine.json")});
    rig.part<juce::TextButton>("save preset").onClick();
    fileSheet(rig).enter("new");
    CHECK(rig.access.deeds.back() == "save " + (folder / "new.json"));
    rig.part<juce::TextButton>("book").onClick();
    fileSheet(rig).enter(folder / "lantern");
    CHECK(rig.access.deeds.back() == "log " + (folder / "lantern.headland"));
}

TEST_CASE("What was opened of late and what is built in is chosen by one click") {
    DeskRig rig;
    rig.access.recent = {"/music/side a.wav", "/music/side b.wav"};
    rig.show(ready());
    rig.part<juce::TextButton>("open").onClick();
    auto* picks = dynamic_cast<editor::TextList*>(below(fileSheet(rig), "sheet picks"));
    REQUIRE(picks != nullptr);
    CHECK(picks->lines() == std::vector<std::string>{"side a.wav", "side b.wav"});
    picks->onChoose(1);
    CHECK(rig.access.deeds == std::vector<std::string>{"open /music/side b.wav"});
    rig.part<juce::TextButton>("load preset").onClick();
    dynamic_cast<editor::TextList*>(below(fileSheet(rig), "sheet picks"))->onChoose(0);
    CHECK(rig.access.deeds.back() == "load 30cm-33");
}
