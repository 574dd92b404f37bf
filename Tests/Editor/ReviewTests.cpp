// SPDX-License-Identifier: GPL-3.0-or-later
// A cut that is reviewed: what heads it, its notes in list and map, written anew and deleted; the cautions one steps through;
// and the book's page with its list of cuts.
#include "Log/BookNotes.h"
#include "Log/CutRecorder.h"
#include "Tests/Editor/DeskRig.h"
#include "Tests/Editor/FocusedPeer.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Log/Cuts.h"
#include "Text/Times.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <ctime>

using namespace headland;
using Catch::Contains;
using test::DeskRig;

namespace {

constexpr double crackle_s = 5, mark_s = 2, overcut_s = 8;

/// A cut of made-up frames into a book, 12 s of program; an overcut at 8 s, if it is to be scrap.
void cutInto(const std::string& path, bool isScrap, const std::string& ending) {
    log::BookWriter writer(path);
    auto head = test::madeUpHead();
    head.program =
        log::ProgramRecord{"/tapes/side a.wav", {"side a.wav", "WAV, 24 bit", 44100, 2, 529200, 12}};
    log::CutRecorder recorder(writer, head);
    for (int i = 0; i < 2000; ++i) {
        auto frame = test::madeUpFrame(i, head.settings);
        frame.state = frame.time_s < 0 ? cut::State::leadIn : cut::State::program;
        const auto isThere = isScrap && std::abs(frame.time_s - overcut_s) < head.settings.sector_s() / 2;
        frame.flags = isThere ? static_cast<std::uint16_t>(cut::Flag::overcut) : 0;
        frame.landMin_um = isThere ? -27.6 : 12;
        recorder.frame(frame);
    }
    recorder.end({ending, false, recorder.frames(), 0, NAN});
    if (!writer.flush(std::chrono::seconds(30)))
        throw std::runtime_error("the book was not written");
}

/// A scrap cut with a note and a mark, in review.
struct Reviewing {
    Reviewing() {
        cutInto(path, true, "finished");
        log::addNote(path, 1, {crackle_s, "a crackle", "2031-03-14T09:26:53.589Z"});
        log::addNote(path, 1, {mark_s, "", "2031-03-14T09:26:54.000Z"});
        rig.show({});
        if (!rig.desk().review(path, 1).empty())
            throw std::runtime_error("no review");
    }
    std::vector<log::LoggedNote> inBook() { return log::BookReader(path).notes(1); }
    std::string rows() {
        std::string all;
        for (int i = 0; i < list.rows(); ++i)
            all += list.row(i) + "\n";
        return all;
    }
    void write(const char* words) {
        typed.setText(words);
        typed.onReturnKey();
    }
    void lookAt(double time_s) {
        rig.desk().viewpoint().lookAt(time_s);
        rig.desk().refresh();
    }

    test::TestFolder folder;
    std::string path = folder / "lantern.headland";
    DeskRig rig;
    editor::CautionList& list = rig.part<editor::CautionList>("cautions");
    editor::NoteBar& bar = rig.part<editor::NoteBar>("note bar");
    juce::TextEditor& typed = rig.part<juce::TextEditor>("note text");
};

juce::ListBox& listIn(juce::Component& part) {
    for (auto* child : part.getChildren())
        if (auto* list = dynamic_cast<juce::ListBox*>(child))
            return *list;
    throw std::runtime_error("no list");
}

std::string saidOf(DeskRig& rig) {
    return rig.part<editor::SentenceList>("wrong").shown();
}

} // namespace

TEST_CASE("A scrap cut in review is headed by what spoilt it and never by 'finished'", "[review]") {
    Reviewing review;
    CHECK_THAT(saidOf(review.rig),
               Contains("Scrap: The side cannot be cut: it overcuts, by 27.6 µm at 0:08.0"));
    CHECK_THAT(saidOf(review.rig),
               Contains("Reviewing: Scrap: it overcuts at 0:08.0; cut 1 of lantern.headland")
                   && !Contains("finished") && !Contains("Notice"));
    const test::TestFolder folder;
    const auto good = folder / "good.headland";
    cutInto(good, false, "finished");
    REQUIRE(review.rig.desk().review(good, 1).empty());
    CHECK_THAT(saidOf(review.rig),
               Contains("Reviewing: cut 1 of good.headland: Lantern Sessions, side A, finished")
                   && !Contains("Scrap"));
}

TEST_CASE("Notes of a reviewed cut stand in the list in order of time, and on the map", "[review]") {
    Reviewing review;
    CHECK(review.list.heading() == "1 caution, 2 notes");
    CHECK_THAT(review.rows(), Contains("0:02.0 mark\n0:05.0 note: a crackle\n0:08.0 overcut"));
    auto& map = review.rig.part<editor::Overview>("overview");
    CHECK(map.getTitle().contains("2 notes"));
    review.lookAt(crackle_s);
    const auto with = review.rig.picture();
    log::deleteNote(review.path, 1, 1);
    REQUIRE(review.rig.desk().review(review.path, 1).empty());
    review.lookAt(crackle_s);
    CHECK(map.getTitle().contains("1 note"));
    const auto without = review.rig.picture();
    const auto differs = [&](juce::Component& part) { // the strip and the map, each
        const auto area = review.rig.window->getLocalArea(&part, part.getLocalBounds());
        for (int y = area.getY(); y < area.getBottom(); ++y)
            for (int x = area.getX(); x < area.getRight(); ++x)
                if (with.getPixelAt(x, y) != without.getPixelAt(x, y))
                    return true;
        return false;
    };
    CHECK(differs(map));
    CHECK(differs(review.rig.part<editor::ApproachStrip>("approach")));
}

TEST_CASE("Backspace behind what was typed into nothing does not leave a review, by itself it does",
          "[review]") {
    Reviewing review;
    const juce::KeyPress backspace(juce::KeyPress::backspaceKey);
    review.rig.type("tap", 150);
    review.rig.press(backspace);
    CHECK(review.rig.desk().viewpoint().isReview());
    review.rig.press(backspace);
    CHECK_FALSE(review.rig.desk().viewpoint().isReview());
}

TEST_CASE("In review N writes a note at the place that is looked at, on whatever page", "[review]") {
    Reviewing review;
    review.lookAt(crackle_s);
    review.rig.desk().turnTo(editor::Page::preview);
    review.rig.press('n');
    CHECK(review.rig.desk().page() == editor::Page::preview);
    REQUIRE(review.bar.isOpen());
    CHECK(review.bar.prompt() == "Note at 0:05.0 of cut 1: Return keeps it");
    review.write("and again here");
    CHECK_FALSE(review.bar.isOpen());
    CHECK(review.rig.desk().page() == editor::Page::preview);
    const auto notes = review.inBook();
    REQUIRE(notes.size() == 3);
    CHECK(notes[2].text == "and again here");
    CHECK(notes[2].time_s == crackle_s);
    CHECK(review.rig.access.notes.empty()); // not of the last cut
}

TEST_CASE("In review a note is written anew and deleted, and the book keeps what it was", "[review]") {
    Reviewing review;
    auto& edit = review.rig.part<juce::TextButton>("edit note");
    auto& remove = review.rig.part<juce::TextButton>("delete note");
    review.lookAt(overcut_s);
    CHECK_FALSE(edit.isEnabled()); // a caution is nobody's words
    CHECK_FALSE(remove.isEnabled());
    review.lookAt(crackle_s);
    REQUIRE(edit.isEnabled());
    edit.onClick();
    REQUIRE(review.bar.isOpen());
    CHECK(review.typed.getText() == "a crackle");
    review.write("a crackle, left");
    CHECK_THAT(review.rows(), Contains("0:05.0 note: a crackle, left"));
    REQUIRE(review.inBook()[1].earlier.size() == 1);
    CHECK(review.inBook()[1].earlier[0].text == "a crackle");
    review.lookAt(mark_s);
    remove.onClick();
    CHECK_THAT(review.rows(), !Contains("mark"));
    CHECK(review.list.heading() == "1 caution, 1 note");
    CHECK_THAT(saidOf(review.rig), Contains("Notice: Note 2 at 0:02.0 is deleted; the book keeps it"));
    CHECK(review.inBook()[0].isDeleted());
    log::deleteNote(review.path, 1, 1); // somebody else is quicker
    review.lookAt(crackle_s);
    remove.onClick();
    CHECK_THAT(saidOf(review.rig),
               Contains("Notice: Note 1 of cut 1 has been deleted") && !Contains("Fault"));
}

TEST_CASE("Notes of the cut under way stand in the list and cannot be changed there", "[review]") {
    DeskRig rig;
    test::StagedCut cut({}, test::silence(8));
    cut.runTo(4);
    rig.access.staged = &cut;
    auto glimpse = cut.glimpse();
    glimpse.log.notes = {{{2, "hiss", ""}, 0, {}, {}}};
    rig.show(glimpse);
    CHECK(rig.part<editor::CautionList>("cautions").heading() == "No cautions, 1 note");
    CHECK_FALSE(rig.part<juce::TextButton>("edit note").isVisible());
}

TEST_CASE("Full stop after a cut goes to the first caution, and the list follows", "[review]") {
    cut::CutSettings hasty;
    hasty.preview_s = 0.45;
    hasty.pitch_slew_um_per_rev_s = 90;
    auto program = test::silence(12);
    test::addTone(program, 4, 1, 62, 0.5, 1, 0.8);
    test::addTone(program, 8, 1, 62, 0.5, 1, 0.8);
    test::StagedCut cut(hasty, program);
    cut.runToEnd();
    DeskRig rig;
    rig.access.staged = &cut;
    rig.show(cut.glimpse());
    auto& list = rig.part<editor::CautionList>("cautions");
    std::vector<double> places;
    for (const auto& passage : cut.glimpse().summary.passages)
        places.push_back(editor::placeOf(passage));
    std::sort(places.begin(), places.end());
    places.erase(std::unique(places.begin(), places.end()), places.end());
    REQUIRE(places.size() > 2);
    CHECK(list.selected() == -1);
    for (const auto place_s : places) {
        REQUIRE(rig.press('.'));
        REQUIRE(rig.desk().viewpoint().place_s());
        CHECK(*rig.desk().viewpoint().place_s() == place_s);
        REQUIRE(list.selected() >= 0);
        CHECK_THAT(list.row(list.selected()), Contains(text::minutesTenths(place_s)));
    }
    rig.press(',');
    CHECK(*rig.desk().viewpoint().place_s() == places[places.size() - 2]);
    rig.desk().keyPressed(juce::KeyPress(juce::KeyPress::backspaceKey));
    CHECK(list.selected() == -1);
}

TEST_CASE("At a flagged place the figures are those of that place, with their limits", "[review]") {
    auto program = test::silence(6);
    test::addTone(program, 3, 1, 9000, 0.4);
    test::StagedCut cut({}, program);
    cut.runToEnd();
    DeskRig rig;
    rig.access.staged = &cut;
    rig.show(cut.glimpse());
    const auto passages = cut.glimpse().summary.passages;
    const auto tight = std::find_if(passages.begin(), passages.end(),
                                    [](const auto& passage) { return passage.flag == cut::Flag::tight; });
    REQUIRE(tight != passages.end());
    rig.desk().viewpoint().lookAt(editor::placeOf(*tight));
    rig.desk().refresh();
    const auto& curvature = rig.part<editor::FigureTile>("Curvature").shown();
    CHECK(curvature.value == editor::shortLength(tight->worst.value, editor::Units::metric));
    CHECK(curvature.beside == "tip 18 µm");
    CHECK(rig.part<editor::FigureTile>("Slope").shown().beside == "limit 1.00");
}

TEST_CASE("A row of the book's list says verdict, level, end, program and the time by the clock here",
          "[review]") {
    const auto* before = std::getenv("TZ");
    const std::string kept = before == nullptr ? "" : before;
    ::setenv("TZ", "EST5EDT,M3.2.0,M11.1.0", 1); // POSIX 8.3; on 14 March it is four hours behind
    ::tzset();
    log::CutEntry entry;
    entry.cut = 3;
    entry.side = {"Lantern Sessions", "A"};
    entry.begun_utc = "2031-03-14T02:26:53.589Z";
    entry.ending = "finished";
    entry.last_s = 265;
    entry.program = "/tapes/side a.wav";
    entry.discLevel_db = -2.5;
    entry.endDiameter_mm = 267.1;
    using editor::Units;
    CHECK(editor::cutTitle(entry) == "3  Lantern Sessions, side A; side a.wav");
    CHECK(editor::cutVerdict(entry, Units::metric) == "Good: finished");
    CHECK(editor::cutFacts(entry, Units::metric)
          == "2031-03-13 22:26, level -2.5 dB, ends at 267.1 mm, 4:25");
    CHECK_THAT(editor::cutFacts(entry, Units::inch), Contains("ends at 10.516 in"));
    entry.scrap = "it overcuts, by 127 µm at 1:36.0";
    CHECK(editor::cutVerdict(entry, Units::metric) == "Scrap: it overcuts, by 127 µm at 1:36.0");
    CHECK(editor::cutVerdict(entry, Units::inch) == "Scrap: it overcuts, by 5.00 mil at 1:36.0");
    entry.scrap.clear();
    entry.ending = "lifted";
    CHECK(editor::cutVerdict(entry, Units::metric) == "Not spoilt: lifted");
    entry.isFault = true;
    entry.ending = "ended as a fault: the host stopped the processor with the stylus down";
    CHECK(editor::cutVerdict(entry, Units::metric)
          == "Fault: the host stopped the processor with the stylus down");
    entry.ending.clear();
    entry.program.clear();
    entry.begun_utc = "no time";
    entry.endDiameter_mm = entry.last_s = NAN;
    CHECK(editor::cutVerdict(entry, Units::metric) == "No end: under way or broken off");
    CHECK(editor::cutTitle(entry) == "3  Lantern Sessions, side A; live");
    CHECK(editor::cutFacts(entry, Units::metric) == "no time, level -2.5 dB, nothing was cut");
    if (kept.empty())
        ::unsetenv("TZ");
    else
        ::setenv("TZ", kept.c_str(), 1);
    ::tzset();
}

TEST_CASE("The book's page lists the cuts of the book, newest first, and opens the one that is chosen",
          "[review]") {
    const test::TestFolder folder;
    const auto path = folder / "lantern.headland";
    cutInto(path, true, "finished");
    cutInto(path, false, "lifted");
    DeskRig rig;
    editor::Glimpse glimpse;
    rig.desk().turnTo(editor::Page::book);
    rig.show(glimpse);
    auto& list = rig.part<editor::CutList>("cuts");
    auto& review = rig.part<juce::TextButton>("review");
    CHECK(list.cuts().empty());
    CHECK_FALSE(review.isEnabled());
    glimpse.log.chosen = {path, {"Lantern Sessions", "A"}};
    rig.show(glimpse);
    REQUIRE(list.cuts().size() == 2);
    CHECK(list.cuts()[0].cut == 2);
    CHECK(list.cuts()[0].scrap.empty());
    CHECK(list.cuts()[1].scrap == "it overcuts, by 27.6 µm at 0:08.0");
    const auto metric = rig.picture();
    glimpse.units = editor::Units::inch;
    rig.show(glimpse);
    CHECK_FALSE(test::samePicture(rig.picture(), metric));
    REQUIRE(review.isEnabled());
    review.onClick();
    CHECK(rig.desk().page() == editor::Page::stylus);
    CHECK(rig.desk().viewpoint().reviewShown()->number() == 2);
}

TEST_CASE("The list of cuts keeps the keyboard and the chosen cut when a newer one comes", "[review]") {
    const test::TestFolder folder;
    const auto path = folder / "lantern.headland";
    cutInto(path, true, "finished");
    cutInto(path, false, "lifted");
    DeskRig rig;
    test::FocusedWindow window(*rig.window);
    editor::Glimpse glimpse;
    rig.desk().turnTo(editor::Page::book);
    glimpse.log.chosen = {path, {"Lantern Sessions", "A"}};
    rig.show(glimpse);
    auto& cuts = rig.part<editor::CutList>("cuts");
    auto& list = listIn(cuts);
    list.grabKeyboardFocus();
    REQUIRE(list.hasKeyboardFocus(false));
    const auto unchosen = rig.picture();
    list.keyPressed(juce::KeyPress(juce::KeyPress::downKey)); // the newest
    list.keyPressed(juce::KeyPress(juce::KeyPress::downKey));
    REQUIRE(list.getSelectedRow() == 1);
    CHECK_FALSE(test::samePicture(rig.picture(), unchosen));
    cutInto(path, false, "finished");
    glimpse.log.cut = 3;
    rig.show(glimpse);
    REQUIRE(cuts.cuts().size() == 3);
    CHECK(list.hasKeyboardFocus(false));
    CHECK(list.getSelectedRow() == 2);
    list.keyPressed(juce::KeyPress(juce::KeyPress::returnKey));
    CHECK(rig.desk().viewpoint().reviewShown()->number() == 1);
}

TEST_CASE("The list of cautions and notes keeps the keyboard when it is shown anew, and follows the place",
          "[review]") {
    Reviewing reviewing;
    test::FocusedWindow window(*reviewing.rig.window);
    auto& list = listIn(reviewing.list);
    list.grabKeyboardFocus();
    REQUIRE(list.hasKeyboardFocus(false));
    reviewing.lookAt(crackle_s);
    const auto row = list.getSelectedRow();
    REQUIRE(row >= 0);
    const auto rows = reviewing.list.rows();
    reviewing.rig.press('.'); // the overcut
    CHECK(list.hasKeyboardFocus(false));
    CHECK(list.getSelectedRow() == row + 1);
    reviewing.list.onDelete(reviewing.inBook()[0]);
    reviewing.rig.desk().refresh();
    REQUIRE(reviewing.list.rows() == rows - 1);
    CHECK(list.hasKeyboardFocus(false));
    CHECK(list.getSelectedRow() == row); // the overcut still
    auto glimpse = reviewing.rig.access.glimpse;
    glimpse.units = editor::Units::inch;
    reviewing.rig.show(glimpse);
    CHECK(list.hasKeyboardFocus(false));
    CHECK(list.getSelectedRow() == row);
}

TEST_CASE("A book that cannot be read is a notice on its page, in the list's place too", "[review]") {
    const test::TestFolder folder;
    const auto path = folder / "text.headland";
    test::put(path, std::string(5000, 'x'));
    DeskRig rig;
    rig.desk().turnTo(editor::Page::book);
    rig.show({});
    auto& page = rig.part<editor::BookPage>("book page");
    page.open(path);
    CHECK_THAT(dynamic_cast<editor::NoticeLine*>(DeskRig::find(page, "notice"))->shown(),
               Contains("text.headland") && Contains("is no book"));
    CHECK(rig.part<editor::CutList>("cuts").cuts().empty());
    CHECK_THAT(saidOf(rig), !Contains("Fault"));
}
