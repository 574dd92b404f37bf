// SPDX-License-Identifier: GPL-3.0-or-later
// What the views look at: the stylus, an earlier place, a logged cut; live and review show the same figures of the same place.
#include "Cut/PatchPlan.h"
#include "Editor/CautionList.h"
#include "Editor/Words.h"
#include "Log/BookWriter.h"
#include "Log/CutRecorder.h"
#include "Tests/Editor/DeskRig.h"
#include "Tests/Files/TestFolder.h"
#include "Tests/Support/AsLogged.h"
#include "Tests/Support/Wav.h"

#include <catch2/catch.hpp>

#include <chrono>
#include <cmath>
#include <thread>

using namespace headland;
using Catch::Matchers::Contains;

namespace {

/// A side with a loud passage that overcuts, the preview being far too short.
test::Program program() {
    auto made = test::silence(16);
    test::addTone(made, 1, 14, 300, 0.05);
    test::addTone(made, 9, 2, 60, 0.6);
    return made;
}

cut::CutSettings hasty() {
    cut::CutSettings settings;
    settings.preview_s = 0.45;
    settings.pitch_slew_um_per_rev_s = 90;
    return settings;
}

struct Live {
    explicit Live(double time_s, const std::string& file = {}) : cut(hasty(), program()), access(processor) {
        cut.file = file;
        access.staged = &cut;
        to(time_s);
    }
    void to(double time_s) {
        cut.runTo(time_s);
        look();
    }
    void look() {
        access.glimpse = cut.glimpse();
        view.update(access.glimpse);
    }
    juce::ScopedJuceInitialiser_GUI juceIsUp;
    test::QuietProcessor processor;
    test::StagedCut cut;
    test::KeepingAccess access;
    editor::Viewpoint view{access};
};

std::string writeBook(const test::TestFolder& folder, const std::string& ending) {
    const auto path = folder / "lantern.headland";
    log::BookWriter writer(path);
    log::CutHead head;
    head.side = {"Lantern Sessions", "A"};
    head.settings = hasty();
    head.sampleRate_hz = 44100;
    head.preview = "own delay";
    log::CutRecorder recorder(writer, head);
    const auto sound = program();
    cut::CutEngine engine;
    engine.prepare(head.settings, head.sampleRate_hz);
    engine.process(sound.left.data(), sound.right.data(), static_cast<int>(sound.length()), recorder);
    engine.finish(recorder);
    recorder.end({ending, ending != "finished", recorder.frames(), 0, NAN});
    REQUIRE(writer.flush(std::chrono::seconds(30)));
    return path;
}

} // namespace

TEST_CASE("At the stylus everything is of the newest frame", "[viewpoint]") {
    Live live(5);
    CHECK(live.view.isAtStylus());
    CHECK(live.view.heading() == "At the stylus");
    REQUIRE(live.view.frame().has_value());
    CHECK(live.view.frame()->time_s == test::asLogged(live.cut.frames().back()).time_s);
    CHECK(live.view.strip().place_s == test::asLogged(live.cut.frames().back()).time_s);
    CHECK(live.view.strip().coming.count > 50);
    live.to(6);
    CHECK(live.view.frame()->time_s >= 6);
    CHECK(live.view.side()->frames().size() == live.cut.frames().size());
    const auto groove = live.view.groove();
    REQUIRE(groove.patch);
    CHECK(groove.patch->turns.size() == 4);
    CHECK(groove.patch->time_s == Approx(6).margin(0.05));
}

TEST_CASE("Nothing has been cut: the strip shows what is heard, and everything else says so", "[viewpoint]") {
    Live live(-100);
    test::KeepingAccess nothing(live.processor);
    editor::Viewpoint view(nothing);
    view.update({});
    CHECK(view.side() == nullptr);
    CHECK_FALSE(view.frame().has_value());
    CHECK_FALSE(view.groove().patch);
    CHECK_THAT(view.groove().none, Contains("as soon as one is cut"));
    view.lookAt(3);
    CHECK(view.isAtStylus());
}

TEST_CASE("Looking back shows what was cut there while the stylus goes on, and comes back", "[viewpoint]") {
    Live live(12);
    live.view.lookAt(5);
    live.to(13);
    CHECK_FALSE(live.view.isAtStylus());
    CHECK(live.view.heading() == "At 0:05.0");
    const auto& shown = live.view.shown().status.frame;
    CHECK(shown.time_s == Approx(5).margin(0.01));
    CHECK(live.view.judged().status.frame.time_s >= 13); // what is wrong stays the stylus' affair
    CHECK(live.view.strip().place_s == 5);
    CHECK_FALSE(live.view.strip().isLive);
    live.view.lookAt(1e6);
    CHECK(*live.view.place_s() == test::asLogged(live.cut.frames().back()).time_s);
    live.view.backToStylus();
    CHECK(live.view.isAtStylus());
}

TEST_CASE("A flagged place is shown with its groove, during the cut and after it", "[viewpoint]") {
    Live live(14.5);
    const auto passages = live.view.side()->summary().passages;
    const auto overcut = std::find_if(passages.begin(), passages.end(),
                                      [](const auto& passage) { return passage.flag == cut::Flag::overcut; });
    REQUIRE(overcut != passages.end());
    live.view.lookAt(editor::placeOf(*overcut));
    const auto groove = live.view.groove();
    REQUIRE(groove.patch);
    CHECK(groove.patch->time_s == Approx(overcut->worst.time_s).margin(0.01));
    const auto land = cut::PatchPlan(*groove.patch).narrowestLand();
    REQUIRE(land);
    CHECK(land->value_um == Approx(overcut->worst.value).margin(0.05));
    live.view.lookAt(4); // where nothing was flagged and there is no file
    CHECK_FALSE(live.view.groove().patch);
    CHECK_THAT(live.view.groove().none, Contains("only from a program file"));
}

TEST_CASE("A logged cut is shown as it was live: the same frame, columns and groove", "[viewpoint]") {
    const test::TestFolder folder;
    const auto book = writeBook(folder, "finished");
    Live live(1e9);
    editor::Viewpoint review(live.access);
    review.update(live.access.glimpse);
    REQUIRE(review.review(book, 1).empty());
    CHECK(review.isReview());
    CHECK(review.reviewShown()->heading()
          == "Scrap: it overcuts at 0:09.0; cut 1 of lantern.headland: Lantern Sessions, side A");
    REQUIRE(review.place_s()); // at what spoilt the side
    const auto& passages = review.side()->summary().passages;
    const auto overcut = std::find_if(passages.begin(), passages.end(),
                                      [](const auto& passage) { return passage.flag == cut::Flag::overcut; });
    REQUIRE(overcut != passages.end());
    const auto place_s = editor::placeOf(*overcut);
    CHECK(*review.place_s() == place_s);
    live.view.lookAt(place_s);
    const auto logged = review.shown().status.frame, cut = live.view.shown().status.frame;
    CHECK(logged.time_s == Approx(cut.time_s).margin(1e-6));
    CHECK(logged.pitch_um == Approx(cut.pitch_um).margin(1e-4));
    CHECK(logged.landMin_um == Approx(cut.landMin_um).margin(1e-4));
    CHECK(logged.outerSwing_um == Approx(cut.outerSwing_um).margin(1e-4));
    const editor::StripGrid grid{0.01, 800, 300};
    const auto a = editor::stripColumns(review.strip(), grid),
               b = editor::stripColumns(live.view.strip(), grid);
    for (std::size_t i = 0; i < a.size(); ++i) {
        CHECK(static_cast<double>(a[i].demand_um)
              == Approx(static_cast<double>(b[i].demand_um)).margin(1e-3));
        CHECK(static_cast<double>(a[i].made_um) == Approx(static_cast<double>(b[i].made_um)).margin(2e-3));
        CHECK(static_cast<double>(a[i].innerSwing_um)
              == Approx(static_cast<double>(b[i].innerSwing_um)).margin(1e-3));
    }
    const auto groove = review.groove(), grooveLive = live.view.groove();
    REQUIRE(groove.patch);
    REQUIRE(grooveLive.patch);
    CHECK(groove.patch->points == grooveLive.patch->points);
    CHECK(groove.patch->time_s == Approx(grooveLive.patch->time_s).margin(1e-5));
    CHECK(review.judged().status.frame.estimate.endDiameter_mm
          == Approx(live.cut.frames().back().estimate.endDiameter_mm).margin(1e-3)); // what became of it
    CHECK_THAT(editor::whatIsWrong(review.judged()).front().text,
               Contains("overcut") || Contains("Two turns"));
}

TEST_CASE(
    "A review is refused while the stylus is down, of a cut that is not there, and of a file that is no book",
    "[viewpoint]") {
    const test::TestFolder folder;
    const auto book = writeBook(folder, "lifted");
    Live live(5);
    CHECK_THAT(live.view.review(book, 1), Contains("The stylus is down"));
    live.to(1e9);
    CHECK_THAT(live.view.review(book, 7), Contains("7"));
    CHECK_THAT(live.view.review(folder / "nothing.headland", 1), Contains("nothing.headland"));
    CHECK_FALSE(live.view.isReview());
    CHECK(live.view.review(book, 1).empty());
    CHECK(live.view.judged().lastEnd == "lifted");
    live.view.leaveReview();
    CHECK_FALSE(live.view.isReview());
    CHECK(live.view.side()->frames().size() == live.cut.frames().size());
}

TEST_CASE("Stylus down, a review ends by itself", "[viewpoint]") {
    const test::TestFolder folder;
    const auto book = writeBook(folder, "finished");
    Live live(1e9);
    REQUIRE(live.view.review(book, 1).empty());
    auto lowering = live.access.glimpse;
    lowering.status.lowering = true;
    live.view.update(lowering);
    CHECK_FALSE(live.view.isReview());
}

TEST_CASE("Anywhere else the groove is made again from the program's file, once the place stands still",
          "[viewpoint]") {
    const test::TestFolder folder;
    Live live(1e9, folder / "program.wav");
    test::writeWav(live.cut.file, program());
    live.view.lookAt(4.2);
    CHECK_FALSE(live.view.groove().patch);
    CHECK_THAT(live.view.groove().none, Contains("made again from the program"));
    editor::GrooveSight sight;
    for (int i = 0; i < 2000 && !sight.patch; ++i) {
        live.look();
        sight = live.view.groove();
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
    }
    REQUIRE(sight.patch);
    CHECK(live.view.isSettled());
    CHECK(sight.patch->time_s == Approx(4.2).margin(0.001));
    const auto frame = *live.view.frame();
    const cut::PatchPlan plan(*sight.patch);
    const auto land_um = plan.land_um(*plan.placeTurn(), plan.placePoint());
    CHECK(land_um >= frame.landMin_um - 0.1);
    CHECK(land_um < frame.landMin_um + 15);
    live.view.lookAt(4.3); // another place: not the groove of the one before
    CHECK_FALSE(live.view.groove().patch);
    juce::File(live.cut.file).deleteFile();
    test::writeWav(live.cut.file, test::silence(16)); // another program of the same name
    for (int i = 0; i < 2000 && !live.view.groove().none.starts_with("The program"); ++i) {
        live.look();
        std::this_thread::sleep_for(std::chrono::milliseconds(5));
        if (live.view.isSettled() && i > 200)
            break;
    }
    CHECK_FALSE(live.view.groove().patch);
    CHECK_THAT(live.view.groove().none, Contains("program.wav"));
}

TEST_CASE("After a change of the set-up or the program verdict and figures are those of before, until it is "
          "rehearsed",
          "[viewpoint]") {
    Live live(1e9, "/tapes/side a.wav");
    live.access.glimpse.file.path = "/tapes/side a.wav";
    const auto judged = [&] {
        live.view.update(live.access.glimpse);
        return live.view.judged();
    };
    CHECK(judged().changedSince.empty());
    CHECK(judged().figuresOf.empty());
    auto& setup = live.access.glimpse.setup;
    setup.side_length_s = 16; // comes from the program
    CHECK(judged().changedSince.empty());
    setup.land_min_um += 0.001;
    CHECK(judged().changedSince == "the set-up");
    CHECK(judged().figuresOf == "before");
    auto side = std::make_shared<editor::SideHistory>(setup);
    auto frame = test::frameInMidSide();
    side->add({&frame, 1});
    live.access.rehearsed = side;
    CHECK(judged().figuresOf == "rehearsed");
    CHECK(judged().status.frame.estimate.endDiameter_mm == 152.4);
    live.access.glimpse.file.rehearsedIsOld = true;
    CHECK(judged().figuresOf == "rehearsed before");
    CHECK(live.view.overview().isOld);
    setup.land_min_um -= 0.001;
    live.access.glimpse.setup = live.cut.glimpse().setup;
    CHECK(judged().changedSince.empty());
    live.access.glimpse.problems = {
        "pitch_max_um is below pitch_min_um."}; // what is on screen is not what is in use
    CHECK(judged().changedSince == "the set-up");
    live.access.glimpse.problems.clear();
    live.access.glimpse.file.path = "/tapes/side b.wav";
    CHECK(judged().changedSince == "the program");
}
