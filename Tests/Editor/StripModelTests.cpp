// SPDX-License-Identifier: GPL-3.0-or-later
// The approach strip's columns: what is drawn at a time is what was cut at that time, and what lies ahead is what is foreseen.
#include "Editor/ApproachStrip.h"

#include "Tests/Editor/StagedCut.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headland;
using Catch::Matchers::Contains;

namespace {

test::Program loudAfter(double start_s) {
    auto program = test::silence(start_s + 6);
    test::addTone(program, 0, start_s, 500, 0.02);
    test::addTone(program, start_s, 4, 70, 0.35, 1, 0.6);
    return program;
}

struct Stage {
    explicit Stage(double time_s) : cut({}, loudAfter(14)) {
        cut.runTo(time_s);
        side.add(cut.frames());
        sight.side = &side;
        cut.foresee(sight.coming);
        sight.place_s = cut.frames().back().time_s;
    }
    test::StagedCut cut;
    editor::SideHistory side{cut::CutSettings{}};
    editor::StripSight sight;
};

} // namespace

TEST_CASE("What is drawn at a time is what was cut at that time", "[strip]") {
    Stage stage(13);
    const auto sector_s = cut::CutSettings().sector_s();
    const editor::StripGrid grid{sector_s / 3, std::llround(std::floor(10 / (sector_s / 3))), 2000};
    const auto columns = editor::stripColumns(stage.sight, grid);
    auto compared = 0;
    for (int i = 0; i < grid.count; ++i) {
        const auto middle_s = grid.start_s(i) + grid.column_s / 2;
        const auto& column = columns[static_cast<std::size_t>(i)];
        const auto at = stage.side.frameAt(middle_s);
        if (at >= stage.side.frames().size())
            break;
        const auto& frame = stage.side.frames()[at];
        INFO("column " << i << " at " << middle_s);
        if (!column.isThere() || std::abs(frame.time_s - sector_s / 2 - middle_s) > sector_s / 6)
            continue; // not the column of the sector's middle
        CHECK(static_cast<double>(column.pitch_um) == Approx(frame.pitch_um));
        CHECK(static_cast<double>(column.depth_um) == Approx(frame.depth_um));
        CHECK(static_cast<double>(column.demand_um) == Approx(frame.demand_um));
        CHECK(static_cast<double>(column.outerSwing_um) == Approx(frame.outerSwing_um).margin(1e-4));
        CHECK_FALSE(column.isAhead);
        ++compared;
    }
    CHECK(compared > 300);
}

TEST_CASE("Nothing that was cut is hidden between columns: the greatest of each is shown", "[strip]") {
    Stage stage(17);
    const editor::StripGrid grid{0.05, 200, 140}; // several sectors a column
    const auto columns = editor::stripColumns(stage.sight, grid);
    auto greatest_um = 0.0, shown_um = 0.0;
    auto demand_um = 0.0, shownDemand_um = 0.0;
    for (const auto& frame : stage.side.frames())
        if (frame.time_s > 10.01 && frame.time_s < 16.9) {
            greatest_um = std::max(greatest_um, frame.outerSwing_um);
            demand_um = std::max(demand_um, frame.demand_um);
        }
    for (const auto& column : columns)
        if (column.isThere()) {
            shown_um = std::max(shown_um, static_cast<double>(column.outerSwing_um));
            shownDemand_um = std::max(shownDemand_um, static_cast<double>(column.demand_um));
        }
    CHECK(shown_um == Approx(greatest_um));
    CHECK(shownDemand_um == Approx(demand_um));
    CHECK(greatest_um > 20);
}

TEST_CASE("What lies ahead of the stylus is what is foreseen, and begins where what was cut ends",
          "[strip]") {
    Stage stage(13);
    const auto coming = editor::whatComes(stage.sight);
    REQUIRE(coming);
    CHECK(coming->heard_s == Approx(1.8).margin(0.03));
    // The passage begins at 14 s and the stylus is at 13 s.
    CHECK(coming->demandIn_s > 0.95);
    CHECK(coming->demand_um > 100);
    const editor::StripGrid grid{0.01, 1200, 300};
    const auto columns = editor::stripColumns(stage.sight, grid);
    for (int i = 0; i < grid.count; ++i) {
        const auto& column = columns[static_cast<std::size_t>(i)];
        if (!column.isThere())
            continue;
        INFO(grid.start_s(i));
        CHECK(column.isAhead == (grid.start_s(i) + 0.005 > stage.sight.place_s + 0.004));
    }
    CHECK(columns[150].isThere());       // 13.5 s, in the preview
    CHECK_FALSE(columns[290].isThere()); // 14.9 s, not heard yet
    CHECK_THAT(editor::stripHeadline(stage.sight),
               Contains("Coming: spacing up to ") && Contains("left over"));
}

TEST_CASE("A passage that comes too fast is announced as falling short", "[strip]") {
    cut::CutSettings settings;
    settings.preview_s = 0.45;
    settings.pitch_slew_um_per_rev_s = 60;
    auto program = test::silence(16);
    test::addTone(program, 10, 5, 60, 0.5);
    test::StagedCut cut(settings, program);
    cut.runTo(9.8);
    editor::SideHistory side(settings);
    side.add(cut.frames());
    editor::StripSight sight;
    sight.side = &side;
    sight.settings = settings;
    sight.place_s = cut.frames().back().time_s;
    cut.foresee(sight.coming);
    CHECK_THAT(editor::stripHeadline(sight), Contains("it will fall short by "));
    CHECK(editor::whatComes(sight)->shortfall_um > 10);
}

TEST_CASE("Looking back, what was cut later stands on the right of the line", "[strip]") {
    Stage stage(17);
    stage.sight.isLive = false;
    stage.sight.place_s = 12;
    const editor::StripGrid grid{0.01, 1100, 300}; // 11 to 14 s
    const auto columns = editor::stripColumns(stage.sight, grid);
    for (const auto& column : columns) {
        CHECK(column.isThere());
        CHECK_FALSE(column.isAhead);
    }
    CHECK_THAT(editor::stripHeadline(stage.sight), Contains("At 0:12.0"));
}

TEST_CASE("The strip asks for the place under the mouse and under the keys, and scrolls with the grid",
          "[strip]") {
    juce::ScopedJuceInitialiser_GUI juceIsUp;
    Stage stage(13);
    editor::ApproachStrip strip;
    strip.setSize(888, 160);
    strip.show(stage.sight);
    std::vector<double> places_s;
    strip.onPlace = [&](double time_s) { places_s.push_back(time_s); };
    strip.keyPressed(juce::KeyPress(juce::KeyPress::leftKey));
    strip.keyPressed(juce::KeyPress(juce::KeyPress::pageUpKey));
    REQUIRE(places_s.size() == 2);
    CHECK(places_s[0] == Approx(stage.sight.place_s - 1.8 / 16));
    CHECK(places_s[1] == Approx(stage.sight.place_s - 1.8));
    const auto picture = strip.createComponentSnapshot(strip.getLocalBounds());
    CHECK(picture.getWidth() == 888);
    CHECK(strip.getTitle().contains("Coming"));
}
