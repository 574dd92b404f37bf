// SPDX-License-Identifier: GPL-3.0-or-later
// What a window says, against the figures of the frame it is shown.
#include "Editor/Words.h"

#include "Editor/Cues.h"
#include "Tests/Editor/DeskRig.h"

#include "Cut/StylusStage.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headland;
using Catch::Contains;
using editor::Glimpse;
using editor::Weight;
using editor::whatIsWrong;

namespace {

cut::Passage steepAt(double time_s) {
    return {cut::Flag::steep, time_s - 1, time_s, {1.21, time_s, 120.5, true}};
}

editor::Field pitchField() {
    return {nullptr, "pitch_max_um", "Greatest pitch", "µm", "", "", 20, 1000, false, true, false};
}

} // namespace

TEST_CASE("Every figure of the frame is shown with its unit") {
    const auto glimpse = test::midSide();
    const auto all = editor::figures(glimpse);
    CHECK(all[0].value == "101.6 µm");
    CHECK(all[0].beside == "250 lines per inch");
    CHECK(all[1].value == "31.5 µm");
    CHECK(all[2].value == "14.2 µm");
    CHECK(all[3].value == "111.25 mm");
    CHECK(all[3].beside == "diameter 222.5 mm");
    CHECK(all[4].value == "12:34");
    CHECK(all[4].beside == "turn 419");
    CHECK(all[5].value == "-9.3 dBFS");
    const auto disc = editor::discFigures(glimpse);
    CHECK(disc[0].value == "21:30");
    CHECK_THAT(disc[0].beside, Contains("50.9 mm of radius"));
    CHECK(disc[1].value == "152.4 ± 3.6 mm");
}

TEST_CASE("What there is no figure for is a dash, a word, and never a wild number") {
    for (const auto& figure : editor::figures({}))
        CHECK(figure.value == "-");
    CHECK(editor::discFigures({})[1].value == "-");
    auto glimpse = test::midSide();
    glimpse.status.frame.landMin_um = NAN;
    glimpse.status.frame.peak_dbfs = -INFINITY;
    glimpse.status.frame.pitch_um = 1e-12;
    glimpse.status.frame.time_s = -0.5;
    glimpse.status.frame.estimate.left_mm = -0.4;
    CHECK(editor::figures(glimpse)[2].value == "-");
    CHECK(editor::figures(glimpse)[5].value == "silence");
    CHECK(editor::figures(glimpse)[0].beside == "standing still");
    CHECK(editor::figures(glimpse)[4].value == "lead-in");
    CHECK(editor::discFigures(glimpse)[0].value == "none: 0.4 mm too far in");
}

TEST_CASE("In mid-side with nothing wrong, nothing is said to be wrong") {
    CHECK(whatIsWrong(test::midSide()).empty());
    CHECK(whatIsWrong({}).empty());
}

TEST_CASE("Every problem, trouble and fault is said, worst first") {
    Glimpse glimpse;
    glimpse.notices = {"There is no sound device."};
    glimpse.problems = {"land_min_um is -4 µm.", "pitch_min_um is above pitch_max_um."};
    glimpse.troubles = {"The log cannot be written."};
    glimpse.file.failure = "The file ends early.";
    glimpse.lastEnd = "ended as a fault: the sample rate changed with the stylus down";
    glimpse.lastEndIsFault = true;
    glimpse.status.framesLost = 2;
    const auto all = whatIsWrong(glimpse);
    REQUIRE(all.size() == 7);
    CHECK(all[0].text == "The stylus stays up: land_min_um is -4 µm.");
    CHECK(all[2].text == "The log cannot be written.");
    CHECK(all[3].text == "The file ends early.");
    CHECK(all[4].text == "The last cut ended as a fault: the sample rate changed with the stylus down.");
    CHECK_THAT(all[5].text, Contains("2 rows of the log"));
    CHECK(all[6].weight == Weight::notice);
    for (std::size_t i = 0; i + 1 < all.size(); ++i)
        CHECK(all[i].weight == Weight::fault);
}

TEST_CASE(
    "A side that will not fit is a fault where its length is known, and a caution where it is assumed") {
    auto glimpse = test::midSide();
    auto& estimate = glimpse.status.frame.estimate;
    estimate.endDiameter_mm = 2 * glimpse.setup.end_radius_mm - 1;
    REQUIRE(whatIsWrong(glimpse).size() == 1);
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::fault);
    CHECK_THAT(whatIsWrong(glimpse)[0].text, Contains("will not fit") && Contains("119.7 mm ± 3.6 mm"));
    estimate.lengthKnown = false;
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::caution);
    CHECK_THAT(whatIsWrong(glimpse)[0].text, Contains("length is assumed"));
    estimate.lengthKnown = true;
    estimate.endDiameter_mm = 2 * glimpse.setup.end_radius_mm + 3.5;
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::caution);
    CHECK_THAT(whatIsWrong(glimpse)[0].text, Contains("may not fit"));
    estimate.endDiameter_mm = 2 * glimpse.setup.end_radius_mm + 3.7;
    CHECK(whatIsWrong(glimpse).empty());
}

TEST_CASE("A caution of the last turns is told with its place and figure, an older one is counted") {
    auto glimpse = test::midSide();
    glimpse.summary.passages = {steepAt(700), steepAt(750)};
    glimpse.summary.flaggedPassages[cut::indexOf(cut::Flag::steep)] = 2;
    auto all = whatIsWrong(glimpse);
    REQUIRE(all.size() == 2);
    CHECK(all[0].text
          == "The groove is steeper than the stylus' back angle, worst at 12:30.0, diameter 241.0 mm (slope "
             "1.21).");
    CHECK(all[1].text == "Flagged on this side: 2 steep.");
    CHECK(all[0].weight == Weight::caution);
    glimpse.status.frame.time_s = 761;
    all = whatIsWrong(glimpse);
    REQUIRE(all.size() == 1);
    CHECK_THAT(all[0].text, Contains("2 steep"));
    glimpse.status.frame.flags = static_cast<std::uint16_t>(cut::Flag::overcut);
    all = whatIsWrong(glimpse);
    REQUIRE(all.size() == 2);
    CHECK(all[0].text == "Two turns have met.");
    CHECK(all[0].weight == Weight::fault);
}

TEST_CASE("A fault stands before a caution, whatever it is about") {
    auto glimpse = test::midSide();
    glimpse.status.frame.estimate.endDiameter_mm = 2 * glimpse.setup.end_radius_mm + 1;
    glimpse.status.frame.flags = static_cast<std::uint16_t>(cut::Flag::lifted);
    const auto all = whatIsWrong(glimpse);
    REQUIRE(all.size() == 2);
    CHECK(all[0].text == "The stylus has come out of the lacquer.");
    CHECK(all[1].weight == Weight::caution);
}

TEST_CASE("With the stylus up again the verdict is said") {
    auto glimpse = test::midSide();
    glimpse.status.state = cut::State::up;
    glimpse.summary.sectors = 1;
    glimpse.summary.endDiameter_mm = 152.4;
    glimpse.lastEnd = "finished";
    REQUIRE(whatIsWrong(glimpse).size() == 1);
    CHECK(whatIsWrong(glimpse)[0].text == "The side can be cut: it ends at 152.4 mm diameter.");
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::notice);
    CHECK(editor::stateText(glimpse) == "Stylus up; the last cut finished");
    glimpse.status.lastEnd = handoff::CutEnd::lifted;
    CHECK(whatIsWrong(glimpse).empty());
    glimpse.summary.fits = false;
    REQUIRE_FALSE(whatIsWrong(glimpse).empty());
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::fault);
}

TEST_CASE("One line says what to do next") {
    Glimpse glimpse;
    CHECK_THAT(editor::nextStep(glimpse, true), Contains("Open a program file"));
    CHECK_THAT(editor::nextStep(glimpse, false), Contains("host"));
    glimpse.file.path = "side.wav";
    glimpse.file.about = "side.wav: WAV";
    CHECK_THAT(editor::nextStep(glimpse, true), Contains("Press Cut") && Contains("side.wav: WAV"));
    glimpse.problems = {"No."};
    CHECK_THAT(editor::nextStep(glimpse, true), Contains("Mend the set-up"));
    glimpse = {};
    glimpse.isFed = true;
    CHECK_THAT(editor::nextStep(glimpse, false), Contains("preview"));
    glimpse.status.previewFull = true;
    CHECK_THAT(editor::nextStep(glimpse, false), Contains("Lower"));
    glimpse.status.lowering = true;
    CHECK(editor::stateText(glimpse) == "Lowering");
    CHECK_THAT(editor::nextStep(glimpse, false), Contains("goes down"));
    CHECK_THAT(editor::nextStep(test::midSide(), false), Contains("Escape"));
    CHECK(editor::stateText(test::midSide()) == "Cutting: program");
}

TEST_CASE("Where cuts go is said, for the one under way and for the next") {
    Glimpse glimpse;
    CHECK(editor::logText(glimpse) == "No log is kept: choose a book, and every cut is logged into it.");
    glimpse.log.chosen = {"/books/lantern.headland", {"Lantern Sessions", "A"}};
    CHECK(editor::logText(glimpse) == "Every cut is logged into lantern.headland: Lantern Sessions, side A.");
    glimpse = test::midSide();
    CHECK_THAT(editor::logText(glimpse), Contains("No log is kept"));
    glimpse = test::loggedMidSide();
    glimpse.log.cut = 0;
    CHECK(editor::logText(glimpse) == "Every cut is logged into lantern.headland: Lantern Sessions, side A.");
    glimpse.log.cut = 3;
    CHECK_THAT(editor::logText(glimpse), Contains("side A. This is cut 3."));
    glimpse.log.chosen = {"/books/harbour.headland", {"Harbour Tapes", "B"}};
    CHECK(editor::logText(glimpse)
          == "This cut is logged into lantern.headland: Lantern Sessions, side A. It is cut 3. The next one "
             "goes into "
             "harbour.headland: Harbour Tapes, side B.");
    glimpse.log.chosen.book.clear();
    CHECK_THAT(editor::logText(glimpse), Contains("The next one is not logged."));
    glimpse.log.chosen.book = "/books/harbour.headland";
    glimpse.log.current = {};
    CHECK(editor::logText(glimpse)
          == "This cut is logged into no book. The next one goes into harbour.headland: Harbour Tapes, side "
             "B.");
    glimpse = test::loggedMidSide();
    glimpse.status.state = cut::State::up;
    CHECK_THAT(editor::logText(glimpse), Contains("The last one is cut 3."));
    glimpse.log.chosen.book = "/books/harbour.headland";
    CHECK_THAT(editor::logText(glimpse), !Contains("cut 3"));
}

TEST_CASE("A mark or note is told with its time, and why one would not be kept") {
    editor::LogState log;
    CHECK(editor::lastNoteText(log).empty());
    log.last = {201, "", ""};
    CHECK(editor::lastNoteText(log) == "Marked at 3:21.0");
    log.last->text = "hiss";
    CHECK(editor::lastNoteText(log) == "Noted at 3:21.0: hiss");
    log.last->time_s = NAN;
    CHECK(editor::lastNoteText(log) == "Noted on the cut: hiss");
    auto glimpse = test::loggedMidSide();
    CHECK(editor::whyNoMark(glimpse).empty());
    CHECK(editor::whyNoNote(glimpse).empty());
    CHECK(editor::placeOfNote(glimpse).time_s == 754);
    CHECK(editor::notePrompt(editor::placeOfNote(glimpse)) == "Note at 12:34.0: Return keeps it");
    glimpse.log.current = {};
    CHECK_THAT(editor::whyNoMark(glimpse), Contains("the one that is chosen is for the next cut"));
    glimpse.log.chosen = {};
    CHECK_THAT(editor::whyNoNote(glimpse), Contains("this cut is in no book") && Contains("choose one"));
    glimpse = test::loggedMidSide();
    glimpse.status.state = cut::State::up;
    CHECK_THAT(editor::whyNoMark(glimpse), Contains("Nothing is being cut"));
    CHECK(editor::whyNoNote(glimpse).empty());
    CHECK(std::isnan(editor::placeOfNote(glimpse).time_s));
    CHECK(editor::notePrompt(editor::placeOfNote(glimpse)) == "Note on the last cut: Return keeps it");
    glimpse.status.cuts = 0;
    CHECK_THAT(editor::whyNoNote(glimpse), Contains("Nothing has been cut yet"));
}

TEST_CASE("A typed text is read with its unit or refused with what would do") {
    const auto field = pitchField();
    CHECK(editor::readTyped(field, "102").value == 102);
    CHECK(editor::readTyped(field, "250 lpi").value == Approx(101.6));
    CHECK(editor::readTyped(field, "4 mil").value == Approx(101.6));
    CHECK(editor::readTyped(field, "1000").refusal.empty());
    CHECK_THAT(editor::readTyped(field, "1001").refusal, Contains("between 20 and 1000 µm"));
    CHECK_THAT(editor::readTyped(field, "19.9").refusal, Contains("out of range"));
    CHECK_THAT(editor::readTyped(field, "wide").refusal, Contains("wide is no number in") && Contains("lpi"));
    CHECK_THAT(editor::readTyped(field, "5 dB").refusal, Contains("no number"));
    CHECK(editor::rangeText(field) == "20 to 1000 µm");
}

TEST_CASE("A cue is offered in the states in which the stylus heeds it, and in no other") {
    using cut::State;
    const cut::CutSettings settings;
    for (const auto state : {State::leadIn, State::program, State::band, State::leadOut, State::finishing})
        for (const auto& [cue, label, key] : editor::cueKeys) {
            if (cue == cut::Cue::lift)
                continue;
            INFO(label << " in " << cut::name(state));
            cut::StylusStage stage(settings);
            const auto enterUntil = [&](State wanted, double command_um) {
                for (int i = 0; i < 5000 && stage.state() != wanted; ++i)
                    stage.enter({settings.start_radius_mm, 100, command_um});
            };
            stage.lower();
            enterUntil(State::leadIn, 100);
            if (state != State::leadIn)
                enterUntil(State::program, 100);
            if (state == State::band)
                stage.cue(cut::Cue::band);
            if (state == State::leadOut)
                stage.cue(cut::Cue::leadOut);
            if (state == State::finishing)
                stage.cue(cut::Cue::finishing);
            enterUntil(state, 0);
            REQUIRE(stage.state() == state);
            handoff::LiveStatus status;
            status.state = state;
            CHECK(editor::meansSomething(cue, status) == stage.cue(cue));
        }
    handoff::LiveStatus up;
    for (const auto& [cue, label, key] : editor::cueKeys)
        CHECK(editor::meansSomething(cue, up) == (cue == cut::Cue::leadIn || cue == cut::Cue::lift));
    up.lowering = true;
    CHECK_FALSE(editor::meansSomething(cut::Cue::leadIn, up));
}
