// SPDX-License-Identifier: GPL-3.0-or-later
// What is made of the delays tried: the sentences for every outcome, the table, the JSON, the picture.

#include "Console/PngPicture.h"
#include "Console/TuneJson.h"
#include "Console/TunePicture.h"
#include "Console/TuneText.h"
#include "Files/Json.h"
#include "Tests/Console/Drawings.h"
#include "Tests/Console/Trials.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::console;
using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

TuneReport ordinary() {
    return tuneReportOf({shortTrial(0.25, 21, 100), shortTrial(0.5, 20.5, 5), keptTrial(0.75, 20),
                         keptTrial(1, 19.97), keptTrial(2, 19.9)});
}

} // namespace

TEST_CASE("A delay is recommended with its tape path and the reason, and what longer ones would buy") {
    CHECK(headline(ordinary()) == "Recommended");
    CHECK(recommendation(ordinary())
          == "1.35 s (0.75 turns), 514 mm of tape at 38 cm/s, 1029 mm of tape at 76 cm/s: it is the shortest "
             "tried at which the side can be cut without a shortfall, and no longer one buys 0.5 % of the "
             "disc used for each half turn that it adds.");
    CHECK(longerOnes(ordinary())
          == "The next longer one, 1.8 s, would save 0.03 mm of radius (0.2 %); the longest, 3.6 s, would "
             "save 0.10 mm of radius (0.5 %).");
}

TEST_CASE("A side that keeps its land at every delay is said to") {
    CHECK_THAT(
        reasonText(tuneReportOf({keptTrial(0.5, 20), keptTrial(1, 20)})),
        StartsWith(
            "the side can be cut without a shortfall at every delay tried, and no longer one buys 0.5 %"));
    const auto later = tuneReportOf({keptTrial(0.5, 20), keptTrial(1, 19)});
    CHECK(reasonText(later)
          == "the side can be cut without a shortfall at every delay tried, and this one saves 5.0 % of the "
             "disc used against 0.9 s");
    CHECK(longerOnes(later) == "It is the longest delay tried.");
}

TEST_CASE("When a longer delay than needed is worth it, the saving is named") {
    const auto report =
        tuneReportOf({shortTrial(0.5, 20, 5), keptTrial(1, 20), keptTrial(1.5, 19), keptTrial(2, 19.2)});
    CHECK(reasonText(report)
          == "the side can be cut without a shortfall from 1.8 s up, this one saves 5.0 % of the disc used "
             "against 1.8 s, and no longer one buys 0.5 % of the disc used for each half turn that it adds");
    CHECK_THAT(longerOnes(report), Contains("3.6 s, would take 0.20 mm of radius more (1.1 %)."));
}

TEST_CASE("A longer delay that spoils the side is not praised for what it saves") {
    const auto report = tuneReportOf({keptTrial(1, 20), shortTrial(2, 18, 5), longTrial(4, 20)});
    CHECK(longerOnes(report)
          == "The next longer one, 3.6 s, would save 2.00 mm of radius (10.0 %), but land would fall short; "
             "the longest, 7.2 s, would take as much disc, but the side could not be cut.");
}

TEST_CASE("When no delay helps, what limits is said") {
    auto lathe = tuneReportOf({shortTrial(1, 20, 40), shortTrial(2, 20, 40)});
    CHECK(headline(lathe) == "None will do");
    CHECK_THAT(recommendation(lathe),
               Contains("is the best of them") && Contains("at best by 40.0 µm at 1:35.0")
                   && Contains("the lathe is the limit (how fast its pitch and depth open)"));
    flag(lathe.trials[0], cut::Flag::limit);
    CHECK_THAT(reasonText(lathe), Contains("the lathe is the limit (its greatest pitch or depth)"));
    CHECK_THAT(reasonText(tuneReportOf({shortTrial(1, 20, 90), shortTrial(2, 20, 30)})),
               Contains("least at the longest, by 30.0 µm") && Contains("needs a longer delay still"));
    CHECK_THAT(reasonText(tuneReportOf({longTrial(1, 90), longTrial(2, 90)})),
               Contains("fits at no delay tried, so the disc is the limit"));
    auto lifted = keptTrial(1, 20);
    flag(lifted, cut::Flag::lifted);
    CHECK_THAT(reasonText(tuneReportOf({lifted})), Contains("lifts at every delay"));
}

TEST_CASE("Land missing at every delay of a side that can be cut is still a recommendation") {
    const auto report = tuneReportOf({shortTrial(1, 20, 4), shortTrial(2, 20, 4)});
    CHECK(headline(report) == "Recommended");
    CHECK_THAT(reasonText(report), Contains("at best by 4.0 µm"));
}

TEST_CASE("One delay only") {
    CHECK(reasonText(tuneReportOf({keptTrial(1, 20)})) == "it is the only delay that could be tried");
    CHECK(longerOnes(tuneReportOf({keptTrial(1, 20)})).empty());
}

TEST_CASE("The table has a line for every delay, marked where it matters, and what was left out below it") {
    auto report = ordinary();
    report.leftOut = {{0.09, "preview_s is too short."}};
    report.trials[0].summary.pitchTravel_um = 123.4;
    const auto text = tuneText(report);
    CHECK_THAT(
        text,
        Contains("\n 0.45   0.25       171    343      21.00    123.4     250.6       -88.0          2  "
                 "100.0  no: overcut\n"));
    CHECK_THAT(text, Contains("yes  < recommended\n") && Contains("yes  < as set\n"));
    CHECK_THAT(text, Contains("38.1 and 76.2 cm/s") && Contains("\nLeft out         0.09 s (0.05 turns): "));
    CHECK_THAT(text, Contains("not a safety system"));
    auto wide = tuneReportOf({longTrial(1, 90)});
    flag(wide.trials[0], cut::Flag::overcut);
    CHECK_THAT(tuneText(wide), Contains("no: overcut, too long  < best of them, as set"));
}

TEST_CASE("The JSON holds every delay and the recommendation") {
    auto report = ordinary();
    report.leftOut = {{0.09, "preview_s is too short."}};
    report.trials[3].summary.pitchTravel_um = 45.5;
    const auto json = juce::JSON::parse(juce::String::fromUTF8(tuneJson(report).c_str()));
    CHECK(static_cast<int>(json["headland_tune"]) == tuneJsonVersion);
    REQUIRE(json["delays"].size() == 5);
    CHECK(static_cast<bool>(json["delays"][2]["recommended"]));
    CHECK_FALSE(static_cast<bool>(json["delays"][1]["recommended"]));
    CHECK(static_cast<bool>(json["delays"][4]["as_set"]));
    CHECK_FALSE(static_cast<bool>(json["delays"][0]["can_be_cut"]));
    CHECK(static_cast<double>(json["delays"][0]["shortfall_greatest"]["shortfall_um"]) == 100);
    CHECK(json["delays"][2]["shortfall_greatest"].isVoid());
    CHECK(static_cast<int>(json["delays"][0]["short_passages"]) == 2);
    CHECK(static_cast<double>(json["delays"][3]["pitch_travel_um_per_turn"]) == 45.5);
    CHECK(static_cast<double>(json["delays"][2]["tape_path_mm"]["76"]) == Approx(1028.7));
    const auto& chosen = json["recommendation"];
    CHECK(static_cast<double>(chosen["delay_s"]) == report.best().delay_s);
    CHECK(chosen["outcome"].toString() == "no-shortfall");
    CHECK(static_cast<double>(chosen["next_longer_saves_mm"]) == Approx(0.03));
    CHECK(json["left_out"].size() == 1);
    CHECK(json["program"]["file_name"].toString() == "side \"A\".wav");
}

TEST_CASE("What is worth trying of steadiness is the usual and what is set, each once, rising") {
    cut::CutSettings settings;
    CHECK(steadinessToTry(settings) == std::vector{0.0, 0.5, 1.0, 2.0, 4.0});
    settings.steady_pitch_percent = 3;
    CHECK(steadinessToTry(settings) == std::vector{0.0, 0.5, 1.0, 2.0, 3.0, 4.0});
}

TEST_CASE("Half the travel of the pitch is worth 1 % of the disc, and not land") {
    constexpr double set_um = 12;
    const auto choose = [&](std::vector<std::pair<double, double>> diskAndTravel) {
        std::vector<SteadinessTrial> trials;
        for (const auto& [used_mm, travel_um] : diskAndTravel) {
            trials.push_back({0, keptTrial(1, used_mm).summary});
            trials.back().summary.pitchTravel_um = travel_um;
        }
        return chooseSteadiness(trials, 0, set_um);
    };
    CHECK(choose({{20, 100}, {20.17, 50}}) == 1);
    CHECK(choose({{20, 100}, {20.21, 50}}) == 0);
    CHECK(choose({{20, 100}, {20.17, 50}, {20.34, 25}}) == 2);
    CHECK(choose({{20, 100}, {20.17, 50}, {20.40, 25}}) == 1);
    CHECK(choose({{20, 100}, {20.185, 50}}) == 0);         // better, but not worth a change
    CHECK(choose({{20, 0}, {20.05, 0}, {20, 0.05}}) == 0); // a pitch that stands

    const auto worse = [&](const DelayTrial& trial) {
        std::vector<SteadinessTrial> trials{{0, keptTrial(1, 20).summary}, {1, trial.summary}};
        trials[0].summary.pitchTravel_um = 100;
        trials[1].summary.pitchTravel_um = 1;
        return chooseSteadiness(trials, 0, set_um);
    };
    CHECK(worse(keptTrial(1, 20)) == 1);
    CHECK(worse(shortTrial(1, 20, 5)) == 0);
    CHECK(worse(longTrial(1, 20)) == 0);
}

TEST_CASE("Steadiness and what better known would buy stand below the delays, in words and JSON") {
    auto report = ordinary();
    CHECK(steadinessText(report).empty());
    CHECK(betterKnownText(report).empty());
    CHECK_THAT(tuneText(report), !Contains("Steady pitch"));
    CHECK(files::Json::parse(tuneJson(report))["recommendation"]["steady_pitch_percent"].is_null());

    report.steadiness = {{0, keptTrial(1, 20).summary}, {1, keptTrial(1, 20.1).summary}};
    report.steadiness[0].summary.pitchTravel_um = 300;
    report.steadiness[1].summary.pitchTravel_um = 90;
    report.steadinessAsSet = 0;
    report.steadinessBest = 1;
    auto platter = report.settings;
    platter.speed_tolerance = 0.0002;
    report.betterKnown = {{platter, cut::findSetting("speed_tolerance"), keptTrial(1, 19.8).summary}};
    CHECK_THAT(steadinessText(report), StartsWith("1 % of the disc for a steady pitch")
                                           && Contains("travels 300 to 90 µm a turn")
                                           && Contains("20.00 to 20.10 mm"));
    CHECK(betterKnownText(report) == "The platter held to 0.02 % (0.1 % now) would save 0.30 mm of radius.");
    CHECK_THAT(tuneText(report), Contains("\nSteady pitch     1 %") && Contains("yes  < recommended\n")
                                     && Contains("300.0  yes  < as set\n")
                                     && Contains("\nBetter known     The platter"));
    const auto json = files::Json::parse(tuneJson(report));
    CHECK(json["recommendation"]["steady_pitch_percent"] == 1.0);
    CHECK(json["steadiness"][0]["as_set"] == true);
    CHECK(json["steadiness"][0]["recommended"] == false);
    CHECK(json["steadiness"][1]["recommended"] == true);
    CHECK(json["steadiness"][1]["used_mm"] == 20.1);
    CHECK(json["better_known"][0]["key"] == "speed_tolerance");
    CHECK(json["better_known"][0]["value"] == 0.0002);
    CHECK(json["better_known"][0]["saves_mm"].get<double>() == Approx(0.3));

    auto preview = report.settings;
    report.settings.preview_tolerance_s = 0.005;
    report.betterKnown.push_back(
        {preview, cut::findSetting("preview_tolerance_s"), keptTrial(1, 20.2).summary});
    CHECK_THAT(betterKnownText(report), Contains(", and the preview known exactly (to 5 ms now) would take "
                                                 "0.10 mm of radius more."));
}

TEST_CASE("Words of the picture are on the sheet and clear of each other, for tables of every kind") {
    const juce::ScopedJuceInitialiser_GUI fonts;
    const auto check = [](const TuneReport& report) { checkWords(drawTrialChart(tuneChart(report))); };
    SECTION("an ordinary one") {
        check(ordinary());
    }
    SECTION("one delay, nothing used") {
        check(tuneReportOf({keptTrial(1, 0)}));
    }
    SECTION("a delay far beyond the others, and one close to another") {
        check(tuneReportOf(
            {shortTrial(0.25, 21, 1000), keptTrial(1, 20), keptTrial(1.001, 20), keptTrial(16.66, 25)}));
    }
    SECTION("none that will do, and a long name") {
        auto report = tuneReportOf({shortTrial(0.25, 21.5, 123456), shortTrial(4, 21, 12345)});
        report.program.fileName = std::string(400, 'W');
        check(report);
    }
    SECTION("ten delays of another speed") {
        std::vector<DelayTrial> trials;
        for (const auto turns : cut::delays_turns)
            trials.push_back(keptTrial(turns * 1.001, 20 - turns));
        check(tuneReportOf(trials));
    }
}

TEST_CASE("The picture marks what is recommended and what is set, and says which sides cannot be cut") {
    const auto drawing = drawTrialChart(tuneChart(ordinary()));
    const auto said = words(drawing);
    for (const auto* word :
         {"recommended, 1.35 s (0.75 turns)", "as set, 3.6 s (2.00 turns)", "can be cut", "cannot be cut",
          "turns", "preview delay, s", "least land, µm", "tape at 38 cm/s, m", "tape at 76 cm/s, m", "0.69"})
        CHECK(said.count(word) == 1);
    auto good = 0, bad = 0;
    for (const auto* element : elements(drawing, "rect")) {
        good += element->getStringAttribute("fill") == "#0072b2" ? 1 : 0;
        bad += element->getStringAttribute("stroke") == "#d55e00" ? 1 : 0;
    }
    // Four panels and the key; one of the five trials has an overcut.
    CHECK(good == 4 * 4 + 1);
    CHECK(bad == 4 * 1 + 1);
    CHECK(words(drawTrialChart(tuneChart(tuneReportOf({keptTrial(1, 20)})))).count("cannot be cut") == 0);
}

TEST_CASE("The picture's curve runs through the disc used, to scale") {
    const auto chart = tuneChart(ordinary());
    REQUIRE(chart.panels.size() == 4);
    CHECK(chart.panels[0].values == std::vector<double>{21, 20.5, 20, 19.97, 19.9});
    CHECK(chart.panels[0].onRight(20) == "252.6"); // 2 x (146.3 - 20)
    const auto drawing = drawTrialChart(chart);
    const auto* path = elements(drawing, "path").front();
    const auto curve = juce::Drawable::parseSVGPath(path->getStringAttribute("d"));
    const auto start = curve.getPointAlongPath(0), end = curve.getPointAlongPath(curve.getLength());
    CHECK(start.x < end.x);
    CHECK(start.y < end.y); // less disc used stands lower
}
