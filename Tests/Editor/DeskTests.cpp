// SPDX-License-Identifier: GPL-3.0-or-later
// The window as a person has it: what it shows, what its buttons and keys do, what it refuses; drawn without a display.
#include "Tests/Editor/DeskRig.h"
#include "Tests/Editor/HostEar.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headland;
using Catch::Contains;
using cut::Cue;
using test::DeskRig;

namespace {

juce::TextButton& cueButton(DeskRig& rig, std::string_view label) {
    return rig.part<juce::TextButton>("cue " + editor::toJuce(label));
}

juce::TextEditor& typingIn(juce::Component& field) {
    return dynamic_cast<juce::TextEditor&>(*field.getChildren().getFirst());
}

constexpr int held_ms = 600; ///< long enough to be meant

/// The mouse, seen from a component, so long after it was pressed.
juce::MouseEvent mouseAt(juce::Component& component, float x, float y, int after_ms = 0,
                         int modifiers = juce::ModifierKeys::leftButtonModifier) {
    const auto pressed = juce::Time::getCurrentTime();
    return {juce::Desktop::getInstance().getMainMouseSource(),
            {x, y},
            juce::ModifierKeys(modifiers),
            1,
            0,
            0,
            0,
            0,
            &component,
            &component,
            pressed + juce::RelativeTime::milliseconds(after_ms),
            {x, y},
            pressed,
            1,
            false};
}

/// Relative luminance and contrast: WCAG 2.1, from memory.
double luminance(juce::Colour c) {
    const auto linear = [](double v) {
        return v <= 0.03928 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * linear(c.getFloatRed()) + 0.7152 * linear(c.getFloatGreen())
           + 0.0722 * linear(c.getFloatBlue());
}

} // namespace

TEST_CASE("Every text stands out from every ground") {
    for (const auto text : editor::palette::texts)
        for (const auto ground : editor::palette::grounds)
            CHECK((luminance(juce::Colour(text)) + 0.05) / (luminance(juce::Colour(ground)) + 0.05) >= 4.5);
}

TEST_CASE("The window shows the frame's figures and the sentences") {
    DeskRig rig;
    rig.show(test::midSide());
    CHECK(rig.part<editor::FigureTile>("Pitch").shown().value == "101.6 µm");
    CHECK(rig.part<editor::FigureTile>("Land").shown().value == "14.2 µm");
    CHECK(rig.part<editor::FigureTile>("Pitch").getTitle()
          == juce::String::fromUTF8("Pitch 101.6 µm, 98.4 lines per cm"));
    CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), Contains("Nothing is wrong."));
    auto refused = editor::Glimpse();
    refused.problems = {"land_min_um is -4 µm; it must lie between 0 and 200 µm."};
    rig.show(refused);
    CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(),
               Contains("Caution: The stylus stays up: land_min_um is -4 µm") && Contains("Mend the set-up"));
    CHECK(rig.part<editor::FigureTile>("Pitch").shown().value == "-");
}

TEST_CASE("Each state looks different, the same state looks the same: nothing blinks") {
    for (const auto& [width, height] : {std::pair{900, 600}, std::pair{1600, 1000}}) {
        DeskRig rig(true, width, height);
        rig.show({});
        const auto empty = rig.picture();
        REQUIRE(empty.getWidth() == width);
        juce::Thread::sleep(700);
        rig.desk().refresh();
        CHECK(test::samePicture(rig.picture(), empty));
        rig.show(test::midSide());
        const auto cutting = rig.picture();
        CHECK_FALSE(test::samePicture(cutting, empty));
        auto faulty = test::midSide();
        faulty.troubles = {"The log cannot be written."};
        rig.show(faulty);
        CHECK_FALSE(test::samePicture(rig.picture(), cutting));
    }
}

TEST_CASE("Nothing lies outside the window or over something else, at any size") {
    for (const auto& [width, height] :
         {std::pair{900, 600}, std::pair{1600, 600}, std::pair{900, 1000}, std::pair{1600, 1000}})
        for (const auto files : {true, false}) {
            DeskRig rig(files, width, height);
            rig.show(test::midSide());
            const auto& children = rig.desk().getChildren();
            for (int i = 0; i < children.size(); ++i) {
                if (!children[i]->isVisible() || dynamic_cast<juce::TooltipWindow*>(children[i]))
                    continue;
                const auto bounds = children[i]->getBounds();
                INFO(width << " x " << height << ", child " << i << " " << bounds.toString());
                CHECK(bounds.getHeight() >= 28);
                CHECK(rig.desk().getLocalBounds().contains(bounds));
                for (int k = 0; k < i; ++k)
                    CHECK_FALSE(children[k]->getBounds().intersects(bounds));
            }
        }
}

TEST_CASE("Sentences for which there is no room are counted, and all are in the tooltip") {
    DeskRig rig;
    auto glimpse = test::midSide();
    glimpse.troubles = {"One.", "Two."};
    rig.show(glimpse);
    rig.picture();
    auto& list = rig.part<editor::SentenceList>("wrong");
    CHECK(list.leftOut() == 0);
    for (int i = 0; i < 8; ++i)
        glimpse.troubles.push_back("Trouble " + std::to_string(i) + ".");
    rig.show(glimpse);
    rig.picture();
    CHECK(list.leftOut() >= 5);
    CHECK(list.leftOut() < 10);
    CHECK(list.getTooltip().contains("Trouble 7."));
}

TEST_CASE("A button gives its cue, and only where it means something") {
    DeskRig rig;
    rig.show(test::midSide());
    for (const auto& key : editor::cueKeys) {
        INFO(key.label);
        const auto means = editor::meansSomething(key.cue, rig.access.glimpse.status);
        CHECK(cueButton(rig, key.label).isEnabled() == means);
        if (!means)
            continue;
        cueButton(rig, key.label).onClick();
        REQUIRE_FALSE(rig.access.cues.empty());
        CHECK(rig.access.cues.back() == key.cue);
    }
    auto ready = test::midSide();
    ready.status.state = cut::State::up;
    rig.show(ready);
    CHECK(cueButton(rig, "Lower").isEnabled());
    ready.problems = {"No."};
    rig.show(ready);
    CHECK_FALSE(cueButton(rig, "Lower").isEnabled());
    ready.problems.clear();
    ready.isFed = false;
    rig.show(ready);
    CHECK_FALSE(cueButton(rig, "Lower").isEnabled());
}

TEST_CASE("Every cue has its key on its button, and Escape lifts in every state") {
    DeskRig rig;
    rig.show(test::midSide());
    CHECK(cueButton(rig, "Band").getButtonText() == "Band\n[Shift+B]");
    CHECK(cueButton(rig, "Lift").getButtonText() == "Lift [Esc]");
    CHECK(rig.press('B'));
    CHECK(rig.press('O'));
    CHECK(rig.access.cues == std::vector{Cue::band, Cue::leadOut});
    rig.window->keyPressed(DeskRig::keyOf('F')); // nothing has the keyboard
    rig.wait(500);
    CHECK(rig.access.cues.back() == Cue::finishing);
    rig.access.cues.pop_back();
    CHECK(rig.press('L')); // means nothing in mid-side
    CHECK_FALSE(rig.press('x'));
    CHECK_FALSE(rig.press(juce::KeyPress('b', juce::ModifierKeys(juce::ModifierKeys::commandModifier), 0)));
    CHECK(rig.access.cues.size() == 2);
    for (const auto state : {cut::State::up, cut::State::leadIn, cut::State::program, cut::State::band,
                             cut::State::leadOut, cut::State::finishing})
        for (const auto fed : {true, false}) {
            auto glimpse = test::midSide();
            glimpse.status.state = state;
            glimpse.isFed = fed;
            glimpse.problems = {"No."};
            rig.show(glimpse);
            rig.access.cues.clear();
            CHECK(cueButton(rig, "Lift").isEnabled());
            CHECK(rig.desk().keyPressed(juce::KeyPress(juce::KeyPress::escapeKey)));
            CHECK(rig.access.cues == std::vector{Cue::lift});
        }
}

TEST_CASE("Escape lifts while a value is being typed, and gives the typing up") {
    DeskRig rig;
    rig.show(test::midSide());
    auto& field = rig.part<editor::ValueField>("land_add_um");
    auto* typed = dynamic_cast<juce::TextEditor*>(field.getChildren().getFirst());
    REQUIRE(typed != nullptr);
    typed->setText("55");
    typed->onEscapeKey();
    CHECK(rig.access.cues == std::vector{Cue::lift});
    CHECK(rig.processor.value(0) == 0);
    CHECK(typed->getText() == field.value());
}

TEST_CASE("A typed value reaches its parameter, and a wrong one is refused beside the field") {
    DeskRig rig;
    auto& land = rig.part<editor::ValueField>("land_add_um");
    land.enter(juce::String::fromUTF8("12.5 µm"));
    CHECK(rig.processor.value(0) == Approx(12.5));
    CHECK(land.refusal().empty());
    land.enter("101");
    CHECK(rig.processor.value(0) == Approx(12.5));
    CHECK_THAT(land.refusal(), Contains("between 0 and 100 µm"));
    land.enter("loud");
    CHECK_THAT(land.refusal(), Contains("loud is no number"));
    rig.desk().refresh();
    CHECK_FALSE(land.refusal().empty());
    auto& list = rig.part<editor::SentenceList>("wrong");
    CHECK_THAT(list.shown(), !Contains("loud")); // a slip of the fingers is no fault of the side's
    land.enter("13");
    CHECK(land.refusal().empty());
    CHECK(rig.processor.value(0) == Approx(13));
    auto& setup = rig.part<editor::ValueField>("land_min_um");
    setup.enter("20");
    CHECK(rig.processor.value(3) == Approx(20));
}

TEST_CASE("What is typed is kept to the last bit, and what is shown of it, confirmed, changes nothing") {
    DeskRig rig;
    auto& land = rig.part<editor::ValueField>("land_min_um");
    land.enter("60.325");
    CHECK(rig.processor.value(3) == 60.325);
    land.enter("60,325");
    CHECK(rig.processor.value(3) == 60.325);
    land.enter("33 1/3");
    CHECK(rig.processor.value(3) == 100.0 / 3);
    auto& typed = typingIn(land);
    CHECK(typed.getText() == juce::String::fromUTF8("33.333 µm"));
    typed.onReturnKey();
    CHECK(rig.processor.value(3) == 100.0 / 3);
    land.enter("1,234.5");
    CHECK_THAT(land.refusal(), Contains("is no number"));
    CHECK(rig.processor.value(3) == 100.0 / 3);
}

TEST_CASE("In inches a field shows, reads, bounds and refuses in mil, and any unit is still read") {
    DeskRig rig;
    rig.desk().turnTo(editor::Page::setup);
    auto glimpse = editor::Glimpse();
    rig.show(glimpse);
    auto& land = rig.part<editor::ValueField>("land_min_um");
    auto& typed = typingIn(land);
    CHECK(typed.getTitle() == juce::String::fromUTF8("Least land, µm"));
    CHECK_THAT(typed.getTooltip().toStdString(), Contains("0 to 200 µm"));
    typed.setText("55"); // µm, and given up when the unit changes
    glimpse.units = editor::Units::inch;
    rig.show(glimpse);
    CHECK(typed.getText() == "0.47244 mil");
    CHECK(typed.getTitle() == "Least land, mil");
    CHECK_THAT(typed.getTooltip().toStdString(), Contains("0 to 7.874 mil") && !Contains("µm"));
    CHECK(rig.processor.value(3) == Approx(12));
    land.enter("1");
    CHECK(rig.processor.value(3) == Approx(25.4));
    CHECK(typed.getText() == "1 mil");
    land.enter(juce::String::fromUTF8("20 µm"));
    CHECK(rig.processor.value(3) == Approx(20));
    land.enter("8");
    CHECK(land.refusal() == "8 mil is out of range; it must lie between 0 and 7.874 mil.");
    CHECK(rig.processor.value(3) == Approx(20));
    land.enter("wide");
    CHECK(land.refusal() == "wide is no number in mil, in; 0 to 7.874 mil will do.");
    glimpse.units = editor::Units::metric;
    rig.show(glimpse);
    CHECK(land.refusal().empty());
    CHECK(typed.getText() == juce::String::fromUTF8("20 µm"));
}

TEST_CASE("The whole refusal stands beside the field") {
    DeskRig rig;
    auto& land = rig.part<editor::ValueField>("land_min_um");
    const auto picture = [&] { return land.createComponentSnapshot(land.getLocalBounds()); };
    land.enter("300");
    const auto outOfRange = picture();
    land.enter("400"); // only the sentence tells the two apart
    auto& typed = typingIn(land);
    typed.setText("300", false);
    CHECK_FALSE(test::samePicture(picture(), outOfRange));
}

TEST_CASE("A hand that slips changes nothing, however long the mouse is held afterwards") {
    DeskRig rig;
    test::HostEar ear(*rig.processor.getParameters()[3]);
    auto& land = rig.part<editor::ValueField>("land_min_um");
    const auto up = juce::String::fromUTF8("0 to 200 µm");
    for (const auto slip_ms : {0, 40, 300, 499}) {
        INFO(slip_ms);
        land.mouseDown(mouseAt(land, 20, 100));
        for (int i = 1; i <= 30; ++i)
            land.mouseDrag(mouseAt(land, 20, 100 - static_cast<float>(i), slip_ms));
        land.mouseDrag(mouseAt(land, 20, 40, 5000));
        land.mouseUp(mouseAt(land, 20, 40, 5000));
        CHECK(rig.processor.value(3) == Approx(12));
    }
    land.mouseDown(mouseAt(land, 20, 100));
    land.mouseDrag(mouseAt(land, 23, 98, held_ms)); // held by an unsteady hand
    land.mouseUp(mouseAt(land, 23, 98, held_ms));
    CHECK(rig.processor.value(3) == Approx(12));
    CHECK(ear.begun == 0);
    CHECK(ear.values == 0);
}

TEST_CASE("A value that is gripped is dragged within its range, Shift makes it slower, and all of it is one "
          "gesture") {
    DeskRig rig;
    test::HostEar ear(*rig.processor.getParameters()[3]);
    auto& land = rig.part<editor::ValueField>("land_min_um");
    int told = 0;
    land.onEntered = [&](const std::string& refusal) { told += refusal.empty(); };
    const auto still = land.createComponentSnapshot(land.getLocalBounds());
    land.mouseDown(mouseAt(land, 20, 100));
    land.mouseDrag(mouseAt(land, 20, 98, held_ms)); // an unsteady hand
    CHECK(ear.begun == 0);
    CHECK_FALSE(
        test::samePicture(land.createComponentSnapshot(land.getLocalBounds()), still)); // the grip is shown
    land.mouseDrag(mouseAt(land, 20, 90, held_ms));
    CHECK(rig.processor.value(3) == Approx(22)); // 200 µm are 200 pixels
    land.mouseDrag(mouseAt(land, 20, 80, held_ms));
    CHECK(rig.processor.value(3) == Approx(32));
    land.mouseDrag(mouseAt(land, 20, 70, held_ms, juce::ModifierKeys::shiftModifier));
    CHECK(rig.processor.value(3) == Approx(33));
    CHECK(typingIn(land).getText() == juce::String::fromUTF8("33 µm"));
    land.mouseDrag(mouseAt(land, 20, -900, held_ms));
    CHECK(rig.processor.value(3) == Approx(200));
    land.mouseDrag(mouseAt(land, 20, -890, held_ms)); // back at once: nothing was counted beyond the range
    CHECK(rig.processor.value(3) == Approx(190));
    CHECK(ear.begun == 1);
    CHECK(ear.ended == 0);
    CHECK(told == 0);
    land.mouseUp(mouseAt(land, 20, -890, held_ms));
    CHECK(ear.begun == 1);
    CHECK(ear.ended == 1);
    CHECK(told == 1);
}

TEST_CASE("The number can be dragged as the name, a click changes nothing, and a choice is not dragged") {
    DeskRig rig;
    auto& land = rig.part<editor::ValueField>("land_min_um");
    auto& typed = typingIn(land);
    land.mouseDown(mouseAt(typed, 20, 10));
    land.mouseUp(mouseAt(typed, 20, 10));
    CHECK(rig.processor.value(3) == Approx(12));
    land.mouseDown(mouseAt(typed, 20, 10));
    land.mouseDrag(mouseAt(land, 20, 28, held_ms)); // the same place seen from the field lies 18 lower
    land.mouseDrag(mouseAt(land, 20, 5, held_ms));
    land.mouseUp(mouseAt(land, 20, 5, held_ms));
    CHECK(rig.processor.value(3) == Approx(35));
    auto& osc = rig.part<editor::ValueField>("osc_on");
    osc.mouseDown(mouseAt(osc, 20, 100));
    osc.mouseDrag(mouseAt(osc, 20, 100, held_ms));
    osc.mouseDrag(mouseAt(osc, 20, 0, held_ms));
    osc.mouseUp(mouseAt(osc, 20, 0, held_ms));
    CHECK(rig.processor.value(4) == 0);
}

TEST_CASE("A drag that a closing window cuts off ends its gesture") {
    DeskRig rig;
    test::HostEar ear(*rig.processor.getParameters()[3]);
    auto& land = rig.part<editor::ValueField>("land_min_um");
    land.mouseDown(mouseAt(land, 20, 100));
    land.mouseDrag(mouseAt(land, 20, 50, held_ms));
    rig.window.reset();
    CHECK(ear.begun == 1);
    CHECK(ear.ended == 1);
}

TEST_CASE("What is ridden shows every digit at every size, in both units") {
    for (const auto& [width, height] : {std::pair{900, 600}, std::pair{1200, 750}, std::pair{1600, 1000},
                                        std::pair{1600, 600}, std::pair{2560, 1440}})
        for (const auto units : {editor::Units::metric, editor::Units::inch}) {
            DeskRig rig(true, width, height);
            rig.processor.getParameters()[0]->setValue(0.6543f);
            rig.processor.getParameters()[1]->setValue(0.98765f);
            rig.processor.getParameters()[2]->setValueNotifyingHost(13.5f / 36); // -10.5 dB of -24 to 12
            auto glimpse = test::midSide();
            glimpse.units = units;
            rig.show(glimpse);
            CHECK(rig.part<editor::ValueField>("level_trim_db").value() == "-10.5 dB");
            for (const auto* key : {"land_add_um", "depth_add_um", "level_trim_db"}) {
                auto& typed = typingIn(rig.part<editor::ValueField>(key));
                INFO(key << " " << typed.getText() << " at " << width << " x " << height);
                CHECK(typed.getTextWidth() <= typed.getWidth() - typed.getLeftIndent());
                CHECK(typed.getFont().getHeight() >= 10);
                CHECK(typed.getCaretRectangle().getX() >= 0); // nothing is scrolled out
            }
        }
}

TEST_CASE("The keys up and down step a value, Shift by a tenth, and never beyond the range") {
    DeskRig rig;
    rig.desk().turnTo(editor::Page::setup);
    test::HostEar ear(*rig.processor.getParameters()[3]);
    auto& land = rig.part<editor::ValueField>("land_min_um");
    const auto press = [&](int key, int modifiers = 0) {
        return land.keyPressed(juce::KeyPress(key, juce::ModifierKeys(modifiers), 0), nullptr);
    };
    CHECK(press(juce::KeyPress::upKey));
    CHECK(rig.processor.value(3) == Approx(13));
    CHECK(press(juce::KeyPress::downKey, juce::ModifierKeys::shiftModifier));
    CHECK(rig.processor.value(3) == Approx(12.9));
    CHECK(typingIn(land).getText() == juce::String::fromUTF8("12.9 µm"));
    CHECK(ear.begun == 2);
    CHECK(ear.ended == 2);
    CHECK_FALSE(press(juce::KeyPress::leftKey)); // moves the caret
    land.enter("199.5");
    press(juce::KeyPress::upKey);
    CHECK(rig.processor.value(3) == Approx(200));
    press(juce::KeyPress::upKey);
    CHECK(land.refusal().empty());
    auto glimpse = editor::Glimpse();
    glimpse.units = editor::Units::inch;
    rig.show(glimpse);
    land.enter("1");
    press(juce::KeyPress::upKey);
    CHECK(typingIn(land).getText() == "1.05 mil");
}

TEST_CASE("A choice tells whoever listens that it was made") {
    DeskRig rig;
    auto& osc = rig.part<editor::ValueField>("osc_on");
    int told = 0;
    osc.onEntered = [&](const std::string& refusal) { told += refusal.empty(); };
    auto* choice = dynamic_cast<juce::ComboBox*>(osc.getChildren().getFirst());
    REQUIRE(choice != nullptr);
    choice->setSelectedItemIndex(1, juce::sendNotificationSync);
    CHECK(rig.processor.value(4) == 1);
    CHECK(told == 1);
    rig.desk().refresh();
    CHECK(told == 1);
}

TEST_CASE("The address of OSC is shown, typed and refused in words") {
    DeskRig rig;
    auto& address = rig.part<editor::TextField>("osc_host");
    auto* typed = dynamic_cast<juce::TextEditor*>(address.getChildren().getFirst());
    REQUIRE(typed != nullptr);
    CHECK(typed->getText() == "127.0.0.1");
    address.enter(" 192.0.2.7 "); // TEST-NET-1, RFC 5737
    CHECK(rig.access.address == "192.0.2.7");
    CHECK(typed->getText() == "192.0.2.7");
    rig.access.refusal = "no address";
    address.enter("here there");
    CHECK(address.refusal() == "no address");
    CHECK(typed->getText() == "here there");
    CHECK(rig.access.address == "192.0.2.7");
}

TEST_CASE("What a host changes is shown with the next look") {
    DeskRig rig;
    rig.desk().turnTo(editor::Page::setup);
    auto& land = rig.part<editor::ValueField>("land_min_um");
    auto* typed = dynamic_cast<juce::TextEditor*>(land.getChildren().getFirst());
    REQUIRE(typed != nullptr);
    CHECK(typed->getText() == juce::String::fromUTF8("12 µm"));
    rig.processor.getParameters()[3]->setValue(0.5f);
    rig.desk().refresh();
    CHECK(typed->getText() == juce::String::fromUTF8("100 µm"));
}

TEST_CASE("Down, the set-up is said to be frozen, and whether changes wait") {
    DeskRig rig;
    rig.desk().turnTo(editor::Page::setup);
    auto& setup = rig.part<editor::SetupList>("setup");
    rig.show({});
    CHECK(setup.heading() == "Set-up");
    auto glimpse = test::midSide();
    rig.show(glimpse);
    CHECK(setup.heading() == "Frozen while the stylus is down: changes wait until it is up");
    glimpse.changesWait = true;
    rig.show(glimpse);
    CHECK_THAT(setup.heading(), Contains("what you changed waits"));
    CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), Contains("Changes of the set-up wait"));
    glimpse.status.state = cut::State::up;
    glimpse.status.lowering = true;
    rig.show(glimpse);
    CHECK_THAT(setup.heading(), Contains("Frozen"));
}

TEST_CASE(
    "A tape is listened to by a button that then ends it, not while a file is cut, and refusals are said") {
    DeskRig rig;
    editor::Glimpse glimpse;
    rig.desk().turnTo(editor::Page::preview);
    rig.show(glimpse);
    auto& listen = rig.part<juce::TextButton>("listen");
    CHECK(listen.getButtonText() == "Listen to a tape");
    listen.onClick();
    CHECK(rig.access.deeds == std::vector<std::string>{"listen"});
    glimpse.listening.isOn = true;
    rig.show(glimpse);
    CHECK(listen.getButtonText() == "End listening");
    rig.access.refusal = "The tape is torn.";
    listen.onClick();
    CHECK(rig.access.deeds.back() == "end listening");
    CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), Contains("The tape is torn."));
    glimpse.file.running = true;
    rig.show(glimpse);
    CHECK(listen.isEnabled()); // it can always be ended
    glimpse.listening.isOn = false;
    rig.show(glimpse);
    CHECK_FALSE(listen.isEnabled());
}

TEST_CASE("A file is opened, cut at the speed that is chosen, and stopped, and what is refused is said") {
    DeskRig rig;
    auto& go = rig.part<juce::TextButton>("go");
    CHECK_FALSE(go.isEnabled());
    CHECK(rig.desk().isInterestedInFileDrag({"side.wav"}));
    CHECK_FALSE(rig.desk().isInterestedInFileDrag({"a.wav", "b.wav"}));
    rig.desk().filesDropped({"side.wav"}, 0, 0);
    CHECK(rig.access.deeds == std::vector<std::string>{"open side.wav"});
    editor::Glimpse glimpse;
    glimpse.file.path = "side.wav";
    glimpse.file.about = "side.wav: WAV, 4:00";
    rig.show(glimpse);
    REQUIRE(go.isEnabled());
    go.onClick();
    CHECK(rig.access.deeds.back() == "cut 1");
    rig.part<juce::ComboBox>("speed").setSelectedItemIndex(4, juce::dontSendNotification);
    rig.access.refusal = "The disk is full.";
    go.onClick();
    CHECK(rig.access.deeds.back() == "cut 0");
    rig.desk().refresh();
    CHECK(rig.part<editor::FilePanel>("file").shown() == "The disk is full.");
    CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), !Contains("The disk is full."));
    rig.access.refusal.clear();
    go.onClick();
    CHECK_THAT(rig.part<editor::FilePanel>("file").shown(), Contains("side.wav: WAV, 4:00"));
    glimpse.file.running = true;
    glimpse.file.fraction = 0.42;
    rig.show(glimpse);
    CHECK_THAT(rig.part<editor::FilePanel>("file").shown(), Contains("42 % of side.wav"));
    go.onClick();
    CHECK(rig.access.deeds.back() == "stop");
    glimpse.file.running = false;
    glimpse.problems = {"No."};
    rig.show(glimpse);
    CHECK_FALSE(go.isEnabled());
}

TEST_CASE("In a host there are no files to cut") {
    DeskRig rig(false);
    CHECK(DeskRig::find(rig.desk(), "file") == nullptr);
    CHECK_FALSE(rig.desk().isInterestedInFileDrag({"side.wav"}));
}

TEST_CASE("Where cuts are logged is shown, and job and side are typed") {
    DeskRig rig;
    rig.desk().turnTo(editor::Page::book);
    rig.show(test::loggedMidSide());
    auto& panel = rig.part<editor::LogPanel>("log");
    CHECK(panel.place()
          == "Every cut is logged into lantern.headland: Lantern Sessions, side A. This is cut 3.");
    CHECK(panel.getTooltip() == "/books/lantern.headland");
    auto& job = rig.part<editor::TextField>("job");
    auto& side = rig.part<editor::TextField>("side");
    CHECK(typingIn(job).getText() == "Lantern Sessions");
    CHECK(typingIn(side).getText() == "A");
    typingIn(side).setText(" B ");
    typingIn(side).onReturnKey();
    CHECK(rig.access.deeds == std::vector<std::string>{"name Lantern Sessions, B"});
    CHECK(typingIn(side).getText() == "B");
    typingIn(job).setText("Harbour Tapes");
    typingIn(job).onReturnKey();
    CHECK(rig.access.deeds.back() == "name Harbour Tapes, B");
    CHECK_THAT(panel.place(), Contains("The next one goes into lantern.headland: Harbour Tapes, side B."));
    rig.access.refusal = "The job has no name.";
    typingIn(job).setText("");
    typingIn(job).onReturnKey();
    CHECK(job.refusal() == "The job has no name.");
    CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), !Contains("The job has no name."));
    rig.desk().refresh();
    CHECK(typingIn(job).getText() == "");
    rig.access.cues.clear();
    typingIn(job).onEscapeKey();
    CHECK(rig.access.cues == std::vector{Cue::lift});
    CHECK(typingIn(job).getText() == "Harbour Tapes");
}

TEST_CASE("The key M and its button mark, and where a mark means nothing it is refused in words") {
    DeskRig rig;
    rig.show(test::loggedMidSide());
    auto& list = rig.part<editor::SentenceList>("wrong");
    auto& button = rig.part<juce::TextButton>("mark");
    CHECK(button.getButtonText() == "Mark [M]");
    CHECK(rig.desk().keyPressed(DeskRig::keyOf('m')));
    rig.desk().keyStateChanged(false);
    rig.access.glimpse.status.frame.time_s = 760; // while it is waited whether that was a command
    rig.wait(500);
    CHECK(rig.access.marksAt_s == std::vector{754.0});
    button.onClick();
    CHECK(rig.access.marks == 1);
    CHECK_FALSE(rig.press(juce::KeyPress('m', juce::ModifierKeys(juce::ModifierKeys::commandModifier), 0)));
    CHECK_THAT(list.shown(), Contains("Nothing is wrong."));
    rig.show(test::midSide());
    CHECK(rig.press('m'));
    CHECK_THAT(list.shown(), Contains("Notice: The mark is not kept, because this cut is in no book"));
    auto up = test::loggedMidSide();
    up.status.state = cut::State::up;
    rig.show(up);
    button.onClick();
    CHECK_THAT(list.shown(), Contains("Notice: Nothing is being cut"));
    CHECK(rig.access.marks == 1);
}

TEST_CASE("A note has the time at which its field was opened, is taken by Return, and an empty one is not "
          "written") {
    DeskRig rig;
    rig.show(test::loggedMidSide());
    auto& typed = rig.part<juce::TextEditor>("note text");
    CHECK_FALSE(rig.part<editor::NoteBar>("note bar").isOpen());
    rig.access.glimpse.status.frame.time_s = 201; // since the window looked last
    CHECK(rig.press('n'));
    auto& bar = rig.part<editor::NoteBar>("note bar");
    CHECK(bar.isOpen());
    CHECK_FALSE(rig.part<editor::FilePanel>("file").isVisible()); // it stands in its place
    CHECK(rig.desk().page() == editor::Page::stylus);             // and leaves the page as it is
    CHECK(bar.prompt() == "Note at 3:21.0: Return keeps it");
    auto later = test::loggedMidSide();
    later.status.frame.time_s = 260;
    rig.show(later);
    typed.setText(juce::String::fromUTF8(" hiss, left – check the tape "));
    typed.onReturnKey();
    REQUIRE(rig.access.notes.size() == 1);
    CHECK(rig.access.notes[0].first.time_s == 201);
    CHECK(rig.access.notes[0].first.cut == 1);
    CHECK(rig.access.notes[0].second == "hiss, left – check the tape");
    CHECK_FALSE(bar.isOpen());
    CHECK(rig.part<editor::FilePanel>("file").isVisible());
    rig.part<juce::TextButton>("note").onClick();
    CHECK(bar.isOpen());
    CHECK(typed.getText() == "");
    typed.setText("  ");
    typed.onReturnKey();
    CHECK_FALSE(bar.isOpen());
    CHECK(rig.access.notes.size() == 1);
    CHECK(rig.access.marksAt_s.empty());
}

TEST_CASE("Escape lifts while a note is typed and closes it, and a note that is refused stays to be read") {
    DeskRig rig;
    rig.show(test::loggedMidSide());
    auto& typed = rig.part<juce::TextEditor>("note text");
    rig.press('n');
    typed.setText("hiss");
    typed.onEscapeKey();
    CHECK(rig.access.cues == std::vector{Cue::lift});
    auto& bar = rig.part<editor::NoteBar>("note bar");
    CHECK_FALSE(bar.isOpen());
    CHECK(rig.access.notes.empty());
    rig.press('n');
    typed.setText("hiss");
    rig.access.refusal = "Its cut is over.";
    typed.onReturnKey();
    CHECK(bar.isOpen());
    CHECK(typed.getText() == "hiss");
    CHECK(bar.prompt() == "Refused: Its cut is over.");
    CHECK_THAT(rig.part<editor::SentenceList>("wrong").shown(), !Contains("Its cut is over."));
}

TEST_CASE("A note opens only where it would be kept, with the stylus up for the last cut as a whole") {
    DeskRig rig;
    auto& typed = rig.part<juce::TextEditor>("note text");
    auto& bar = rig.part<editor::NoteBar>("note bar");
    auto& list = rig.part<editor::SentenceList>("wrong");
    rig.press('n');
    CHECK_FALSE(bar.isOpen());
    CHECK_THAT(list.shown(), Contains("Nothing has been cut yet"));
    rig.show(test::midSide());
    rig.press('n');
    CHECK_FALSE(bar.isOpen());
    CHECK_THAT(list.shown(), Contains("in no book"));
    auto up = test::loggedMidSide();
    up.status.state = cut::State::up;
    rig.show(up);
    rig.press('n');
    REQUIRE(bar.isOpen());
    typed.setText("good take");
    typed.onReturnKey();
    REQUIRE(rig.access.notes.size() == 1);
    CHECK(std::isnan(rig.access.notes[0].first.time_s));
}

TEST_CASE("What was marked or noted last is shown") {
    DeskRig rig;
    rig.desk().turnTo(editor::Page::book);
    auto glimpse = test::loggedMidSide();
    auto& panel = rig.part<editor::LogPanel>("log");
    rig.show(glimpse);
    CHECK(panel.last().empty());
    const auto before = rig.picture();
    glimpse.log.notes = {{{201, "", ""}, 0, {}, {}}};
    rig.show(glimpse);
    CHECK(panel.last() == "Marked at 3:21.0");
    CHECK_FALSE(test::samePicture(rig.picture(), before));
    CHECK(panel.getTitle().contains("Marked at 3:21.0"));
}

TEST_CASE("A mark that meant nothing is said, and one that is not kept, until the next deed") {
    DeskRig rig;
    auto glimpse = test::midSide();
    glimpse.status.unheededMarks = 4; // before this window was opened
    glimpse.log.marksNotKept = 2;
    rig.access.glimpse = glimpse;
    rig.window = std::make_unique<editor::Window>(rig.processor, rig.access);
    rig.keepTime();
    auto& list = rig.part<editor::SentenceList>("wrong");
    CHECK_THAT(list.shown(), !Contains("mark"));
    ++glimpse.status.unheededMarks;
    rig.show(glimpse);
    CHECK_THAT(list.shown(), Contains("A mark meant nothing when it was given"));
    ++glimpse.log.marksNotKept;
    rig.show(glimpse);
    CHECK_THAT(list.shown(), Contains("A mark is not kept: the cut under way is logged into no book."));
    cueButton(rig, "Band").onClick();
    rig.desk().refresh();
    CHECK_THAT(list.shown(), !Contains("mark"));
}

TEST_CASE("A cue that meant nothing is said, until the next deed") {
    DeskRig rig;
    auto glimpse = test::midSide();
    rig.show(glimpse);
    auto& list = rig.part<editor::SentenceList>("wrong");
    glimpse.status.unheededCues = 1;
    glimpse.status.lastUnheeded = Cue::program;
    rig.show(glimpse);
    CHECK_THAT(list.shown(), Contains("Program meant nothing when it was given."));
    rig.desk().refresh();
    CHECK_THAT(list.shown(), Contains("meant nothing"));
    cueButton(rig, "Band").onClick();
    rig.desk().refresh();
    CHECK_THAT(list.shown(), !Contains("meant nothing"));
}

TEST_CASE("Hidden, the window does not look") {
    DeskRig rig;
    REQUIRE_FALSE(rig.desk().isShowing());
    const auto before = rig.access.looks;
    rig.desk().tick();
    CHECK(rig.access.looks == before);
}

TEST_CASE("Every button and field has a name for those who cannot see it") {
    DeskRig rig;
    rig.show(test::midSide());
    int named = 0;
    const std::function<void(juce::Component&)> visit = [&](juce::Component& in) {
        for (auto* child : in.getChildren()) {
            if (dynamic_cast<juce::ScrollBar*>(&in) != nullptr || !child->isVisible())
                continue;
            const auto* button = dynamic_cast<juce::Button*>(child);
            const auto isField = dynamic_cast<juce::TextEditor*>(child) != nullptr
                                 || dynamic_cast<juce::ComboBox*>(child) != nullptr;
            if (button != nullptr || isField) {
                CHECK((child->getTitle().isNotEmpty()
                       || (button != nullptr && button->getButtonText().isNotEmpty())));
                ++named;
            }
            visit(*child);
        }
    };
    visit(rig.desk());
    CHECK(named >= 20);
}

TEST_CASE(
    "What was undone, or could not be, is a notice beside the buttons, and elsewhere among the notices") {
    DeskRig rig;
    rig.show({});
    auto& list = rig.part<editor::SentenceList>("wrong");
    auto& line =
        *dynamic_cast<editor::NoticeLine*>(DeskRig::find(rig.part<juce::Component>("set-up page"), "notice"));
    const juce::KeyPress undo('z', juce::ModifierKeys(juce::ModifierKeys::commandModifier), 0);
    const juce::KeyPress undoKey('Z', juce::ModifierKeys(juce::ModifierKeys::commandModifier), 0);
    rig.desk().turnTo(editor::Page::setup);
    rig.part<editor::ValueField>("land_min_um").enter("20");
    CHECK((rig.press(undoKey) || rig.press(undo)));
    CHECK_THAT(line.shown(), Contains("Undone: Least land is 12"));
    CHECK_THAT(list.shown(), !Contains("Undone") && !Contains("Fault"));
    rig.desk().turnTo(editor::Page::stylus);
    CHECK_THAT(list.shown(), Contains("Notice: Undone: Least land is 12"));
    rig.press(undoKey);
    CHECK_THAT(list.shown(), Contains("Notice: There is nothing to undo") && !Contains("Fault"));
}

TEST_CASE("That a cut will not be kept is said beside Cut before it is cut") {
    DeskRig rig;
    editor::Glimpse glimpse;
    glimpse.file.path = "side.wav";
    glimpse.file.about = "side.wav: WAV, 4:00";
    rig.show(glimpse);
    auto& panel = rig.part<editor::FilePanel>("file");
    CHECK(panel.getTitle() == "side.wav: WAV, 4:00 This cut will not be kept: no book is chosen.");
    const auto before = rig.picture();
    glimpse.log.chosen.book = "/books/lantern.headland";
    rig.show(glimpse);
    CHECK(panel.getTitle() == "side.wav: WAV, 4:00");
    CHECK_FALSE(test::samePicture(rig.picture(), before));
    DeskRig host(false);
    glimpse = {};
    glimpse.isFed = glimpse.status.previewFull = true;
    host.show(glimpse);
    CHECK_THAT(host.part<editor::SentenceList>("wrong").shown(),
               Contains("press Lower to begin a side. This cut will not be kept: no book is chosen."));
}
