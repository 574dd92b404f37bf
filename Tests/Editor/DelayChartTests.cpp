// SPDX-License-Identifier: GPL-3.0-or-later
// The preview delay in words: seconds, turns and tape, in the units shown.
#include "Editor/DelayChart.h"
#include "Tests/Editor/StagedCut.h"

#include <catch2/catch.hpp>

using namespace headland;

TEST_CASE("A delay is said in seconds, turns and tape, in the units shown") {
    // 1.8 s is a turn at 33 1/3 rpm; 15 and 30 in/s are 38.1 and 76.2 cm/s (IEC 60094-1, from memory).
    CHECK(editor::delayText(1.8, 1.8, editor::Units::metric)
          == "1.800 s = 1.00 turns = 685.8 mm of tape at 38 cm/s, 1371.6 mm of tape at 76 cm/s");
    CHECK(editor::delayText(1.8, 1.8, editor::Units::inch)
          == "1.800 s = 1.00 turns = 27.000 in of tape at 15 in/s, 54.000 in of tape at 30 in/s");
}

TEST_CASE("What a delay would have cost is said with what falls short, and which one is set") {
    editor::StudiedDelay delay;
    delay.cost = {2.7, 20.127, 0, 0};
    delay.turns = 1.5;
    CHECK(editor::studyText(delay, editor::Units::metric)
          == "2.700 s, 1.50 turns: 20.13 mm of disc, short nothing");
    delay.cost.shortfallGreatest_um = 75.7;
    delay.cost.shortfallSectors = 136;
    delay.isSet = true;
    CHECK(editor::studyText(delay, editor::Units::metric)
          == "2.700 s, 1.50 turns: 20.13 mm of disc, short 75.7 µm, 136 sectors (as set)");
}

TEST_CASE("Other delays are reckoned for the program, which ends before the lead-out does") {
    test::StagedCut cut({}, test::silence(6));
    cut.runToEnd();
    editor::SideHistory side({});
    side.add(cut.frames());
    editor::DelayStudy study;
    study.begin(side, 48000);
    study.stop();
    CHECK(study.result().cutTo_s == Approx(6).margin(side.settings().sector_s()));
    CHECK(cut.frames().back().time_s > 7);
    study.begin(editor::SideHistory({}), 48000); // nothing was cut
    study.stop();
    CHECK(study.result().cutTo_s == 0);
}
