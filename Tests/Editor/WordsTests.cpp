// SPDX-License-Identifier: GPL-3.0-or-later
// What a window says, against the figures of the frame it is shown.
#include "Editor/Words.h"

#include "Editor/Cues.h"
#include "Tests/Editor/DeskRig.h"

#include "Cut/SettingsTable.h"
#include "Cut/StylusStage.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <regex>

using namespace headland;
using Catch::Contains;
using editor::Glimpse;
using editor::Weight;
using editor::whatIsWrong;

namespace {

cut::Passage steepAt(double time_s) {
    return {cut::Flag::steep, time_s - 1, time_s, {1.21, time_s, 120.5, true}};
}

const editor::Figure& of(const std::vector<editor::Figure>& all, const std::string& name) {
    const auto found =
        std::find_if(all.begin(), all.end(), [&](const auto& figure) { return figure.name == name; });
    REQUIRE(found != all.end());
    return *found;
}

/// Whether a text gives a figure or names a unit in metric; keys such as land_min_um are names.
bool isMetric(const std::string& text) {
    static const std::regex metric("µm|\\b(um|mm|cm)\\b");
    return std::regex_search(text, metric);
}

/// All that is said of a glimpse, from its figures to its sentences.
std::string everything(const Glimpse& glimpse) {
    std::string all = editor::stateText(glimpse) + "\n" + editor::nextStep(glimpse, true) + "\n"
                      + editor::logText(glimpse) + "\n";
    for (const auto& sentence : whatIsWrong(glimpse))
        all += sentence.text + "\n";
    for (const auto& figure : editor::discFigures(glimpse))
        all += figure.name + figure.value + figure.beside + "\n";
    for (const auto& figure : editor::figures(glimpse))
        all += figure.name + figure.value + figure.beside + "\n";
    return all;
}

/// A cut in some state, with every flag that `flags` has, on the frame and as a passage.
Glimpse someGlimpse(std::mt19937& random, unsigned flags) {
    const auto between = [&](double least, double greatest) {
        return std::uniform_real_distribution<>(least, greatest)(random);
    };
    auto glimpse = test::midSide();
    auto& frame = glimpse.status.frame;
    glimpse.status.state = frame.state = static_cast<cut::State>(random() % 6);
    frame.flags = static_cast<std::uint16_t>(flags);
    frame.radius_mm = between(-5, 150);
    frame.pitch_um = between(0, 500);
    frame.widthMin_um = between(-10, 100);
    frame.landMin_um = random() % 4 == 0 ? NAN : between(-20, 100);
    frame.estimate.left_mm = between(-20, 90);
    frame.estimate.endDiameter_mm = between(-10, 250);
    frame.estimate.grade = static_cast<disc::EstimateGrade>(random() % 3);
    auto& summary = glimpse.summary;
    summary.sectors = 1;
    summary.fits = random() % 2 == 0;
    summary.left_mm = frame.estimate.left_mm;
    summary.landLeast = {between(-20, 100), 10, 100, random() % 2 == 0};
    for (int bit = 0; bit < cut::flagCount; ++bit)
        if (const auto flag = cut::flagAt(bit); frame.has(flag)) {
            summary.flaggedSectors[cut::indexOf(flag)] = summary.flaggedPassages[cut::indexOf(flag)] = 3;
            summary.passages.push_back({flag, 740, 750, {between(-50, 50), 745, between(-5, 150), true}});
        }
    return glimpse;
}

editor::Field pitchField() {
    return {nullptr, "pitch_max_um", "Greatest pitch", "µm", "", "", 20, 1000, false, true, false};
}

} // namespace

TEST_CASE("Every figure of the frame is shown with its unit, in the order of the ledger") {
    auto glimpse = test::midSide();
    glimpse.status.frame.widthMin_um = 47.3;
    glimpse.status.frame.slopePeak = 1.44;
    glimpse.status.frame.curvatureMin_um = 4.7;
    const auto all = editor::figures(glimpse);
    std::string order;
    for (const auto& figure : all)
        order += figure.name + "; ";
    CHECK(order == "Radius; Diameter; Turn; Time; Pitch; Depth; Width; Land; Level; Slope; Curvature; ");
    glimpse.status.frame.curvatureMin_um = 1246351.6;
    CHECK(of(editor::figures(glimpse), "Curvature").value == "over 10.0 mm");
    glimpse.status.frame.curvatureMin_um = std::numeric_limits<double>::infinity();
    CHECK(of(editor::figures(glimpse), "Curvature").value == "-");
    CHECK(of(all, "Radius").value == "111.25 mm");
    CHECK(of(all, "Diameter").value == "222.5 mm");
    CHECK(of(all, "Turn").value == "419");
    CHECK(of(all, "Time").value == "12:34");
    CHECK(of(all, "Pitch").value == "101.6 µm");
    CHECK(of(all, "Pitch").beside == "98.4 lines per cm");
    CHECK(of(all, "Depth").value == "31.5 µm");
    CHECK(of(all, "Depth").beside == "basic 25 µm");
    CHECK(of(all, "Width").value == "47.3 µm");
    CHECK(of(all, "Width").beside == "least set 30 µm");
    CHECK(of(all, "Land").value == "14.2 µm");
    CHECK(of(all, "Land").beside == "least set 12 µm");
    CHECK(of(all, "Level").value == "-9.3 dBFS");
    CHECK(of(all, "Slope").value == "1.44");
    CHECK(of(all, "Slope").beside == "limit 1.00"); // the tangent of 45°
    CHECK(of(all, "Curvature").value == "4.7 µm");
    CHECK(of(all, "Curvature").beside == "tip 18 µm");
    const auto disc = editor::discFigures(glimpse);
    CHECK(disc[0].value == "21:30");
    CHECK(disc[0].beside == "min at this pitch; 50.9 mm");
    CHECK(disc[1].value == "152.4 ± 3.6 mm");
}

TEST_CASE("The same frame in inches: 101.6 µm are 4 mil and 250 lines to the inch, 152.4 mm are 6 in") {
    auto glimpse = test::midSide();
    glimpse.units = editor::Units::inch;
    glimpse.status.frame.widthMin_um = 50.8;
    const auto all = editor::figures(glimpse);
    CHECK(of(all, "Radius").value == "4.3799 in"); // 111.25 / 25.4 = 4.37992
    CHECK(of(all, "Diameter").value == "8.760 in");
    CHECK(of(all, "Pitch").value == "4.00 mil");
    CHECK(of(all, "Pitch").beside == "250 lines per inch");
    CHECK(of(all, "Depth").value == "1.24 mil");
    CHECK(of(all, "Depth").beside == "basic 0.98 mil");
    CHECK(of(all, "Width").value == "2.00 mil");
    CHECK(of(all, "Land").beside == "least set 0.47 mil");
    CHECK(discFigures(glimpse)[0].beside == "min at this pitch; 2.004 in");
    CHECK(discFigures(glimpse)[1].beside == "diameter; limit 4.750 in"); // 4 3/4 in, RIAA 1963
    CHECK(editor::discFigures(glimpse)[1].value == "6.000 ± 0.142 in");
    glimpse.status.frame.estimate.left_mm = -2.54;
    CHECK(editor::discFigures(glimpse)[0].value == "none: 0.100 in too far in");
}

TEST_CASE("What there is no figure for is a dash, a word, and never a wild number") {
    for (const auto& figure : editor::figures({})) {
        CHECK(figure.value == "-");
        CHECK(figure.beside.empty());
    }
    CHECK(editor::discFigures({})[1].value == "-");
    auto glimpse = test::midSide();
    glimpse.status.frame.landMin_um = NAN;
    glimpse.status.frame.peak_dbfs = -INFINITY;
    glimpse.status.frame.pitch_um = 1e-12;
    glimpse.status.frame.time_s = -0.5;
    glimpse.status.frame.estimate.left_mm = -0.4;
    const auto all = editor::figures(glimpse);
    CHECK(of(all, "Land").value == "-");
    CHECK(of(all, "Level").value == "silence");
    CHECK(of(all, "Pitch").beside == "standing still");
    CHECK(of(all, "Time").value == "lead-in");
    CHECK(editor::discFigures(glimpse)[0].value == "none: 0.4 mm too far in");
    glimpse.status.frame.estimate.endDiameterUncertainty_mm = NAN;
    CHECK(editor::discFigures(glimpse)[1].value == "152.4 mm");
    glimpse.status.frame.estimate.endDiameter_mm = NAN;
    CHECK(editor::discFigures(glimpse)[1].value == "-");
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
    glimpse.cautions = {"OSC cannot be sent."};
    const auto all = whatIsWrong(glimpse);
    REQUIRE(all.size() == 8);
    CHECK(all[0].text == "The log cannot be written.");
    CHECK(all[1].text == "The file ends early.");
    CHECK(all[2].text == "The last cut ended as a fault: the sample rate changed with the stylus down.");
    CHECK_THAT(all[3].text, Contains("2 rows of the log"));
    CHECK(all[4].text == "The stylus stays up: land_min_um is -4 µm.");
    CHECK(all[6].text == "OSC cannot be sent.");
    for (std::size_t i = 0; i < all.size(); ++i) // a fault is what costs the side or the log something
        CHECK(all[i].weight == (i < 4 ? Weight::fault : i < 7 ? Weight::caution : Weight::notice));
}

TEST_CASE(
    "A side that will not fit is a fault where its length is known, and a caution where it is assumed") {
    auto glimpse = test::midSide();
    auto& estimate = glimpse.status.frame.estimate;
    estimate.endDiameter_mm = 2 * glimpse.setup.end_radius_mm - 1;
    REQUIRE(whatIsWrong(glimpse).size() == 1);
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::fault);
    CHECK_THAT(whatIsWrong(glimpse)[0].text, Contains("will not fit") && Contains("119.7 mm ± 3.6 mm"));
    estimate.grade = disc::EstimateGrade::blind;
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::caution);
    CHECK_THAT(whatIsWrong(glimpse)[0].text, Contains("length is assumed"));
    estimate.grade = disc::EstimateGrade::lengthKnown;
    estimate.endDiameter_mm = 2 * glimpse.setup.end_radius_mm + 3.5;
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::caution);
    CHECK_THAT(whatIsWrong(glimpse)[0].text, Contains("may not fit"));
    estimate.endDiameter_mm = 2 * glimpse.setup.end_radius_mm + 3.7;
    CHECK(whatIsWrong(glimpse).empty());
}

TEST_CASE("Near the disc's end the window says when it comes, where, and what then happens by itself") {
    auto glimpse = test::midSide();
    glimpse.setup.side_length_s = 0;
    auto& frame = glimpse.status.frame;
    frame.radius_mm = glimpse.setup.stopRadius_mm() + 3.1;
    frame.estimate.left_mm = frame.radius_mm - glimpse.setup.end_radius_mm;
    frame.estimate.left_min = frame.estimate.left_mm / 2; // 2 mm a minute: 93 s to the stop radius
    const auto said = [&] {
        const auto all = whatIsWrong(glimpse);
        return std::any_of(all.begin(), all.end(), [](const auto& sentence) {
            return sentence.weight == Weight::fault
                   && sentence.text
                          == "The disc ends in 1:33 at this pitch: the lead-out begins by itself at 111.8 mm "
                             "diameter.";
        });
    };
    CHECK(said());
    glimpse.setup.side_length_s = frame.time_s + 92; // the program ends before
    CHECK_FALSE(said());
    glimpse.setup.side_length_s = frame.time_s + 94;
    CHECK(said());
    glimpse.setup.disc_end = 1;
    CHECK_FALSE(said());
    glimpse.setup.disc_end = 0;
    frame.state = cut::State::leadOut;
    CHECK_FALSE(said());
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
    CHECK(all[0].weight == Weight::scrap);
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
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::scrap);
}

TEST_CASE("A scrap cut is headed by what spoils it worst, and never called finished or a notice") {
    auto glimpse = test::midSide();
    glimpse.status.state = cut::State::up;
    glimpse.lastEnd = "finished";
    auto& summary = glimpse.summary;
    summary.sectors = 1;
    const auto overcut = cut::indexOf(cut::Flag::overcut);
    summary.flaggedSectors[overcut] = summary.flaggedPassages[overcut] = 1;
    summary.passages = {{cut::Flag::overcut, 95.9, 96.1, {-126.4, 96, 141.6, true}}};
    summary.fits = false;
    CHECK(editor::scrapHeading(summary) == "Scrap: it overcuts at 1:36.0");
    CHECK(editor::stateText(glimpse) == "Scrap: it overcuts at 1:36.0. Stylus up");
    CHECK(editor::isScrapOver(glimpse));
    const auto all = whatIsWrong(glimpse);
    REQUIRE_FALSE(all.empty());
    CHECK(all[0].weight == Weight::scrap);
    CHECK(editor::name(all[0].weight) == "Scrap");
    CHECK_THAT(all[0].text,
               Contains("The side cannot be cut: it overcuts, by 126.4 µm at 1:36.0; it does not fit"));
    for (const auto& sentence : all)
        CHECK(sentence.weight != Weight::notice);
    summary.passages.clear();
    summary.flaggedSectors[overcut] = 0;
    CHECK_THAT(editor::scrapHeading(summary), Contains("Scrap: it does not fit"));
    summary.fits = true;
    CHECK(editor::scrapHeading(summary).empty());
}

TEST_CASE("A side that would need more than the whole disc ends at no diameter") {
    auto glimpse = test::midSide();
    glimpse.status.frame.estimate.endDiameter_mm = -22.8;
    CHECK(editor::discFigures(glimpse)[1].value == "past the disc's middle");
}

TEST_CASE("A verdict of what is no longer on screen says so in words, and so do the figures") {
    auto glimpse = test::midSide();
    glimpse.status.state = cut::State::up;
    glimpse.status.lastEnd = handoff::CutEnd::finished;
    glimpse.lastEnd = "finished";
    glimpse.summary.sectors = 1;
    glimpse.summary.endDiameter_mm = 152.4;
    glimpse.changedSince = "the set-up";
    glimpse.figuresOf = "before";
    REQUIRE(whatIsWrong(glimpse).size() == 1);
    CHECK(
        whatIsWrong(glimpse)[0].text
        == "The last cut, before the set-up was changed: The side can be cut: it ends at 152.4 mm diameter.");
    CHECK(editor::stateText(glimpse) == "Stylus up");
    CHECK(editor::discFigures(glimpse)[1].name == "Side ends at, before");
    glimpse.summary.fits = false;
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::scrap);
    CHECK_FALSE(editor::isScrapOver(glimpse));
}

TEST_CASE("What the rehearsal says is said before Cut is pressed, in its own words, and as old where it is") {
    Glimpse glimpse;
    glimpse.file.path = "side.wav";
    glimpse.file.about = "side.wav: WAV";
    CHECK(whatIsWrong(glimpse).empty());
    glimpse.file.rehearsed = "The side cannot be cut: it overcuts, by 27.6 µm at 1:36.0.";
    glimpse.file.rehearsedIsScrap = true;
    REQUIRE(whatIsWrong(glimpse).size() == 1);
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::caution);
    CHECK(whatIsWrong(glimpse)[0].text
          == "Rehearsed: The side cannot be cut: it overcuts, by 27.6 µm at 1:36.0.");
    CHECK_THAT(editor::nextStep(glimpse, true), Contains("cannot be cut") && !Contains("Press Cut"));
    glimpse.file.rehearsedIsOld = true;
    glimpse.file.rehearsing = 0.3;
    CHECK(whatIsWrong(glimpse)[0].text
          == "Rehearsed before the set-up was changed (it is being rehearsed again): The side cannot be cut: "
             "it "
             "overcuts, by 27.6 µm at 1:36.0.");
    CHECK_THAT(editor::nextStep(glimpse, true), Contains("Press Cut"));
    glimpse.file.rehearsed = "The side can be cut: it ends at 152.4 mm diameter.";
    glimpse.file.rehearsedIsScrap = glimpse.file.rehearsedIsOld = false;
    CHECK(whatIsWrong(glimpse)[0].weight == Weight::notice);
    glimpse.status.cuts = 1;
    glimpse.summary.sectors = 1; // it has been cut: that tells it
    glimpse.status.lastEnd = handoff::CutEnd::finished;
    REQUIRE(whatIsWrong(glimpse).size() == 1);
    CHECK_THAT(whatIsWrong(glimpse)[0].text, !Contains("Rehearsed"));
    glimpse.file.running = true;
    glimpse.status.state = cut::State::program;
    for (const auto& sentence : whatIsWrong(glimpse))
        CHECK_THAT(sentence.text, !Contains("Rehearsed"));
}

TEST_CASE("What a cut has of its rehearsal is said while it is cut") {
    Glimpse glimpse;
    glimpse.file.running = true;
    glimpse.status.state = cut::State::program;
    const auto said = [&](const cut::ProfileUse& use) {
        glimpse.status.rehearsal = use;
        const auto all = whatIsWrong(glimpse);
        REQUIRE(all.size() == 1);
        return all.front();
    };
    CHECK_THAT(said({}).text, Contains("began before the side was rehearsed"));
    CHECK_THAT(said({true, false}).text, Contains("another High-pass"));
    CHECK_THAT(said({true, true}).text, Contains("planned beyond the preview"));
    CHECK(said({true, true}).weight == Weight::notice);
    CHECK_THAT(said({true, true, true, 83.44}).text,
               Catch::StartsWith("From 1:23.4 on the program is not what was rehearsed"));
    CHECK(said({true, true, true, 83.44}).weight == Weight::caution);
    glimpse.file.running = false; // what comes from a tape was not rehearsed
    CHECK(whatIsWrong(glimpse).empty());
}

TEST_CASE("What is listened to is said with the stylus up, and while it is cut what has become of it") {
    Glimpse glimpse;
    glimpse.isFed = true;
    glimpse.listening.isOn = true;
    glimpse.listening.heard_s = 201;
    const auto only = [&] {
        const auto all = whatIsWrong(glimpse);
        REQUIRE(all.size() == 1);
        return all.front();
    };
    CHECK(only().text == "Listening: 3:21 heard.");
    CHECK_THAT(editor::nextStep(glimpse, false), Contains("End listening"));
    glimpse.listening = {false, 0, 1214, ""};
    CHECK_THAT(only().text, Catch::StartsWith("20:14 of tape heard"));
    CHECK(only().weight == Weight::notice);
    glimpse.listening.why = "The listening ended.";
    CHECK(only().text == "The listening ended.");
    CHECK(only().weight == Weight::caution);

    glimpse.status.state = cut::State::program;
    const auto said = [&](bool isFound, bool isDropped, double ratio) {
        auto& use = glimpse.status.rehearsal;
        use = {true, isFound, isDropped, 83.44};
        use.isSought = true;
        use.ratio = ratio;
        return only();
    };
    CHECK_THAT(said(false, false, 1).text, Catch::StartsWith("The program is looked for"));
    CHECK(said(true, false, 1.0004).text
          == "The program is found in what was listened to: the pitch is planned beyond the preview.");
    CHECK_THAT(said(true, false, 1.002).text, Contains("listened to, 0.20 % faster: the pitch"));
    CHECK_THAT(said(true, false, 0.9985).text, Contains("listened to, 0.15 % slower: the pitch"));
    CHECK(said(true, false, 1).weight == Weight::notice);
    CHECK_THAT(said(true, true, 1).text,
               Catch::StartsWith("From 1:23.4 on the program is not what was listened to"));
    CHECK(said(true, true, 1).weight == Weight::caution);
}

TEST_CASE("Whether a cut is kept is said before it and while it is under way") {
    Glimpse glimpse;
    CHECK(editor::notKeptText(glimpse) == "This cut will not be kept: no book is chosen.");
    glimpse.log.chosen.book = "/books/lantern.headland";
    CHECK(editor::notKeptText(glimpse).empty());
    glimpse.status.state = cut::State::program; // and this one was begun before
    CHECK(editor::notKeptText(glimpse) == "This cut is not kept: it is in no book.");
    CHECK(editor::notKeptText(test::loggedMidSide()).empty());
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
    log.notes = {{{100, "before", ""}, 0, {}, {}}, {{201, "", ""}, 0, {}, {}}};
    CHECK(editor::lastNoteText(log) == "Marked at 3:21.0");
    log.notes.back().text = "hiss";
    CHECK(editor::lastNoteText(log) == "Noted at 3:21.0: hiss");
    log.notes.back().time_s = NAN;
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

TEST_CASE("In inches nothing is said in µm, mm or cm, whatever has happened, and nothing else changes") {
    std::mt19937 random(7);
    cut::CutSettings impossible; // refused in as many ways as there are
    for (const auto& setting : cut::settingsTable())
        cut::setNumber(impossible, setting, setting.greatest + 1);
    cut::CutSettings crossed;
    crossed.depth_basic_um = 70;
    crossed.width_min_um = 145;
    crossed.pitch_min_um = 150;
    crossed.pitch_max_um = 120;
    crossed.start_radius_mm = 150;
    crossed.end_radius_mm = 50;
    crossed.finishing_radius_mm = 52;
    crossed.lead_in_pitch_um = 5000;
    int metricTexts = 0;
    for (unsigned round = 0; round < 2048; ++round) {
        auto glimpse = someGlimpse(random, round % (1U << cut::flagCount));
        glimpse.problems = cut::validate(round % 2 == 0 ? impossible : crossed, 48000);
        glimpse.troubles = {
            "The control output reaches 100 µm of depth at full scale, and the set-up needs 150 µm."};
        glimpse.notices = {"The groove is 250 lines per inch."};
        const auto metric = everything(glimpse);
        glimpse.units = editor::Units::inch;
        const auto inches = everything(glimpse);
        metricTexts += isMetric(metric);
        if (isMetric(inches))
            FAIL(inches.substr(0, 4000));
        if (std::count(inches.begin(), inches.end(), '\n') != std::count(metric.begin(), metric.end(), '\n'))
            FAIL("a sentence was lost");
    }
    CHECK(metricTexts == 2048); // there was something to turn
}

TEST_CASE("A sentence has its places and figures in inches") {
    auto glimpse = test::midSide();
    glimpse.units = editor::Units::inch;
    auto& estimate = glimpse.status.frame.estimate;
    estimate.endDiameter_mm = 4.7 * 25.4;
    estimate.endDiameterUncertainty_mm = 2.54;
    glimpse.summary.passages = {{cut::Flag::thinLand, 749, 750, {10.16, 750, 3.5 * 25.4, true}}};
    glimpse.problems = {"land_min_um is -4 µm; it must lie between 0 and 200 µm."};
    const auto all = whatIsWrong(glimpse);
    REQUIRE(all.size() == 3);
    CHECK(all[1].text
          == "The stylus stays up: land_min_um is -0.16 mil; it must lie between 0 and 7.87 mil.");
    CHECK(
        all[0].text
        == "The side will not fit: its end is expected at 4.700 in ± 0.100 in, and 4.750 in is the innermost "
           "allowed.");
    CHECK(all[2].text
          == "The land is below the set land, worst at 12:30.0, diameter 7.000 in (land 0.40 mil).");
}

TEST_CASE("A typed text is read with its unit or refused with what would do") {
    const auto field = pitchField();
    constexpr auto metric = editor::Units::metric;
    CHECK(editor::readTyped(field, "102", metric).value == 102);
    CHECK(editor::readTyped(field, "250 lpi", metric).value == Approx(101.6));
    CHECK(editor::readTyped(field, "4 mil", metric).value == Approx(101.6));
    CHECK(editor::readTyped(field, "1000", metric).refusal.empty());
    CHECK_THAT(editor::readTyped(field, "1001", metric).refusal, Contains("between 20 and 1000 µm"));
    CHECK_THAT(editor::readTyped(field, "19.9", metric).refusal, Contains("out of range"));
    CHECK_THAT(editor::readTyped(field, "wide", metric).refusal,
               Contains("wide is no number in") && Contains("lpi"));
    CHECK_THAT(editor::readTyped(field, "5 dB", metric).refusal, Contains("no number"));
    CHECK(editor::rangeText(field, metric) == "20 to 1000 µm");
    CHECK(editor::labelText(field, metric) == "Greatest pitch, µm");
}

TEST_CASE("In inches a bare number is in mil or inches, and any unit is still read") {
    const auto field = pitchField();
    constexpr auto inch = editor::Units::inch;
    CHECK(editor::labelText(field, inch) == "Greatest pitch, mil");
    CHECK(editor::rangeText(field, inch) == "0.7874 to 39.37 mil");
    CHECK(editor::readTyped(field, "4", inch).value == Approx(101.6).epsilon(1e-12));
    CHECK(editor::readTyped(field, " 4 mil", inch).value == Approx(101.6).epsilon(1e-12));
    CHECK(editor::readTyped(field, "102 µm", inch).value == 102);
    CHECK(editor::readTyped(field, "0.1 mm", inch).value == Approx(100));
    CHECK(editor::readTyped(field, "250 lpi", inch).value == Approx(101.6));
    // A bound as it is shown is within the range, and no more than the bound.
    CHECK(editor::readTyped(field, "0.7874", inch).refusal.empty());
    CHECK(editor::readTyped(field, "0.7874", inch).value == 20);
    CHECK(editor::readTyped(field, "0.7873", inch).refusal
          == "0.7873 mil is out of range; it must lie between 0.7874 and 39.37 mil.");
    CHECK(editor::readTyped(field, "wide", inch).refusal
          == "wide is no number in mil, in, lpi; 0.7874 to 39.37 mil will do.");
    const auto of = [](const char* unit) {
        return editor::Field{nullptr, "some", "Some", unit, "", "", 0, 1e6, false, false, false};
    };
    CHECK(editor::readTyped(of("mm"), "12", inch).value == Approx(304.8).epsilon(1e-12));
    CHECK(editor::readTyped(of("cm/s"), "2", inch).value == Approx(5.08).epsilon(1e-12));
    CHECK(editor::readTyped(of("µm/s"), "10", inch).value == Approx(254).epsilon(1e-12));
    CHECK(editor::readTyped(of("µm/rev/s"), "10", inch).value == Approx(254).epsilon(1e-12));
    CHECK(editor::readTyped(of("dB"), "3", inch).value == 3);
    CHECK(editor::readTyped(of("rpm"), "loud", inch).refusal
          == "loud is no number in rpm; 0 to 1e+06 rpm will do.");
    for (const auto* unit : {"µm", "mm", "cm/s", "µm/s", "µm/rev/s"}) {
        const auto refusal = editor::readTyped(of(unit), "wide", inch).refusal;
        INFO(refusal);
        CHECK_FALSE(isMetric(refusal));
        CHECK_THAT(refusal, Contains(" in ") && !Contains("m/s") && !Contains(", ,") && !Contains("in ,"));
    }
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
