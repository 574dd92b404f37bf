// SPDX-License-Identifier: GPL-3.0-or-later
// The sentences of a search, on reports of made-up sides: each way it can end, and each thing that can give way.

#include "Console/FitText.h"
#include "Tests/Console/FitReports.h"

#include <catch2/catch.hpp>

#include <juce_core/juce_core.h>

using namespace headland;
using namespace headland::console;
using namespace headland::test;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;
using Catch::Matchers::StartsWith;

TEST_CASE("The answer in a sentence, for each quantity") {
    CHECK(answerSentence(fitReportOf(level, -32, clean(), steep()))
          == "The highest disc level at which the side is clean is -3.2 dB: it ends at 270.2 mm diameter "
             "with 11.9 µm "
             "least land.");
    CHECK_THAT(answerSentence(fitReportOf(land, 183, clean(), steep())),
               StartsWith("The greatest land at which the side is clean is 18.3 µm: "));
    CHECK_THAT(answerSentence(fitReportOf(depth, 300, clean(), steep())),
               StartsWith("The greatest basic depth at which the side is clean is 30.0 µm: "));
    auto shorter = clean(); // than a turn: there is no land
    shorter.landLeast.valid = false;
    CHECK_THAT(answerSentence(fitReportOf(level, -32, shorter, steep())),
               EndsWith("ends at 270.2 mm diameter."));
}

TEST_CASE("What gives way, how much and where") {
    const auto at = [](const cut::CutSummary& high) {
        return limitSentence(fitReportOf(level, -32, clean(), high));
    };
    CHECK(at(steep())
          == "The slope gives way first: at -3.1 dB the slope is 1.012 (limit 1.000) at 3:36.0, diameter "
             "268.9 mm.");
    CHECK(at(narrow())
          == "The width of the groove gives way first: at -3.1 dB the groove is 21.0 µm wide (set: 30) at "
             "1:01.5, "
             "diameter 280.0 mm.");
    CHECK(at(lifted())
          == "The depth of the groove gives way first: at -3.1 dB the stylus lifts, by 2.0 µm, at 1:01.5, "
             "diameter "
             "280.0 mm.");
    CHECK(at(thin())
          == "The land gives way first: at -3.1 dB the land is -3.3 µm (set: 12) at 0:12.0, diameter 290.0 "
             "mm.");
    CHECK(at(tooLong())
          == "The disc gives way first: at -3.1 dB the program goes 0.325 mm beyond the innermost allowed "
             "radius, "
             "which it reaches at 20:34.0, diameter 120.7 mm.");
}

TEST_CASE("Two that give way at once are both told, the earlier in the program first") {
    auto both = tooLong();
    both.slopeGreatest = {1.0123, 216, 134.45, true};
    flag(both, cut::Flag::steep);
    CHECK_THAT(limitSentence(fitReportOf(level, -32, clean(), both)),
               StartsWith("The slope and the disc give way first: at -3.1 dB the slope is 1.012")
                   && Contains("3:36.0, diameter 268.9 mm, and the program goes 0.325 mm"));
}

TEST_CASE("The end of the range is said, with what the setting says of more") {
    CHECK(limitSentence(fitReportOf(level, 1000, clean(), steep()))
          == "Nothing gives way there, it is the end of the range: disc_level_db is 20.1 dB; it must lie "
             "between -40 "
             "and 20 dB.");
    CHECK_THAT(limitSentence(fitReportOf(depth, 1000, clean(), steep())),
               Contains("lower the one or raise the other"));
}

TEST_CASE("No answer: why, and what to do, for each thing that can be in the way") {
    const auto none = [](std::size_t quantity, const cut::CutSummary& always) {
        const auto made = fitReportOf(quantity, 0, always, always);
        CHECK(made.exitCode() == ExitCode::cannotBeCut);
        CHECK(limitSentence(made).empty());
        return answerSentence(made);
    };
    CHECK(none(land, steep())
          == "No land will do: even at 0.0 µm, the least, the slope is 1.012 (limit 1.000) at 3:36.0, "
             "diameter 268.9 "
             "mm; the slope does not depend on the land, which only moves the place a little further in or "
             "out: vary the level "
             "instead "
             "(--vary level).");
    for (const auto quantity : {land, depth}) {
        CHECK_THAT(none(quantity, tooLong()), Contains("--vary level), or shorten it"));
        CHECK_THAT(none(quantity, thin()),
                   Contains("demanded too late") && Contains("--vary level), or lengthen"));
        CHECK_THAT(none(quantity, steep()), Contains("slope does not depend") && Contains("--vary level"));
    }
    CHECK_THAT(none(land, narrow()),
               Contains("width does not depend on the land") && Contains("--vary level"));
    CHECK_THAT(none(depth, narrow()),
               StartsWith("No basic depth will do: even at 60.0 µm, the greatest, the groove is "
                          "21.0 µm wide")
                   && Contains("raise depth_max_um"));
    CHECK_THAT(none(level, tooLong()), StartsWith("No disc level will do: even at -40.0 dB, the least, ")
                                           && Contains("shorten the program"));
    CHECK_THAT(none(level, thin()), Contains("lengthen preview_s"));
    CHECK_THAT(none(level, steep()), Contains("reference_velocity_cm_s"));
    CHECK_THAT(none(level, lifted()), Contains("raise depth_basic_um"));
}

TEST_CASE("No answer between two neighbours: both are told") {
    CHECK_THAT(answerSentence(fitReportOf(depth, 331, narrow(), tooLong())),
               StartsWith("No basic depth will do: at 33.1 µm the groove is 21.0 µm wide")
                   && Contains(", and at 33.2 µm the program goes 0.325 mm beyond")
                   && Contains("--vary level"));
}

TEST_CASE("Tight curvature and bad samples are cautions of the answer only") {
    CHECK(cautionSentences(fitReportOf(level, -32, clean(), steep())).empty());
    auto tight = clean();
    tight.curvatureLeast = {4.68, 201, 135.1, true};
    flag(tight, cut::Flag::tight);
    CHECK_FALSE(cautionSentences(fitReportOf(level, 1000, tight, tight)).empty());
    CHECK(cautionSentences(fitReportOf(level, -32, tight, steep()))
          == "Caution: there the radius of curvature is below the playback tip's 18 µm in 1 passage, 4.7 µm "
             "at the "
             "tightest, at 3:21.0, diameter 270.2 mm; that is no limit here.");
    auto bad = clean();
    flag(bad, cut::Flag::badSample);
    CHECK_THAT(cautionSentences(fitReportOf(level, -32, bad, steep())), Contains("cut as silence"));
}

TEST_CASE("The table has a row for every trial, the answer's marked, and the others say what is wrong") {
    auto made = fitReportOf(level, -32, clean(), steep());
    const auto text = fitText(made);
    CHECK_THAT(text,
               Contains("\n      -3.2         270.2        11.9       31.0     0.800        85.0       299  "
                        "nothing: the answer\n"));
    CHECK_THAT(text,
               Contains("\n      -3.1         270.2        11.9       31.0     1.012        85.0       299  "
                        "slope\n"));
    CHECK_THAT(text, Contains("  nothing\n"));
    auto rows = 0;
    for (const auto& line : juce::StringArray::fromLines(juce::String::fromUTF8(text.c_str())))
        rows += line.contains(" 85.0 ") ? 1 : 0;
    CHECK(rows == static_cast<int>(made.result.trials.size()));
}
