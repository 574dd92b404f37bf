// SPDX-License-Identifier: GPL-3.0-or-later
// The frames of a cut as the views have them: rows a turn, the summary, places by time and by turn.
#include "Editor/SideHistory.h"
#include "Tests/Cut/TestPrograms.h"

#include <catch2/catch.hpp>

#include <cmath>

using namespace headland;

namespace {

std::vector<cut::CutFrame> cutSide() {
    auto program = test::silence(30);
    test::addTone(program, 10, 8, 60, 0.3);
    return test::cutAll({}, program);
}

} // namespace

TEST_CASE("A row a turn holds what its frames hold, whatever the pieces they came in", "[side]") {
    const auto frames = cutSide();
    editor::SideHistory whole({}), pieces({});
    whole.add(frames);
    for (std::size_t i = 0; i < frames.size(); i += 77)
        pieces.add(std::span(frames).subspan(i, std::min<std::size_t>(77, frames.size() - i)));
    REQUIRE(whole.turns().size() == pieces.turns().size());
    CHECK(whole.frames().size() == frames.size());
    CHECK(whole.summary() == pieces.summary());
    std::size_t counted = 0;
    for (std::size_t t = 0; t < whole.turns().size(); ++t) {
        const auto& row = whole.turns()[t];
        CHECK(row.firstFrame == counted);
        CHECK(row.pitchMean_um == pieces.turns()[t].pitchMean_um);
        counted += row.frames;
        const auto& last = frames[counted - 1];
        CHECK(row.end_s == last.time_s); // added as they are
        CHECK(row.innerRadius_mm == last.radius_mm);
        if (t + 1 < whole.turns().size()) {
            CHECK(row.frames == 256);
            CHECK(last.turn == Approx(static_cast<double>(t + 1)));
        }
        auto demand_um = 0.0;
        auto sum_um = 0.0;
        for (auto i = row.firstFrame; i < counted; ++i) {
            demand_um = std::max(demand_um, frames[i].demand_um);
            sum_um += frames[i].pitch_um;
        }
        CHECK(row.demandGreatest_um == demand_um);
        CHECK(row.pitchMean_um == Approx(sum_um / static_cast<double>(row.frames)));
    }
    CHECK(counted == frames.size());
}

TEST_CASE("A frame is found by its time, and the frame one turn before it by its turn, also across a gap",
          "[side]") {
    const auto frames = cutSide();
    editor::SideHistory side({});
    side.add(frames);
    CHECK(side.frameAt(-100) == 0);
    CHECK(side.frameAt(1e6) == frames.size());
    CHECK(side.frameAt(side.frames()[500].time_s) == 500);
    const auto at = side.frameAt(12.345);
    CHECK(frames[at].time_s >= 12.345);
    CHECK(frames[at - 1].time_s < 12.345);
    CHECK_FALSE(side.turnBefore(10).has_value());
    REQUIRE(side.turnBefore(at).has_value());
    CHECK(side.turnBefore(at)->turn == Approx(frames[at].turn - 1));
    editor::SideHistory withGap({});
    withGap.add(std::span(frames).first(1000));
    withGap.add(std::span(frames).subspan(1100));
    REQUIRE(withGap.turnBefore(1150).has_value()); // frame 1250 of the cut; 994 of it is one turn before
    CHECK(withGap.turnBefore(1150)->turn == Approx(frames[994].turn).margin(1e-6));
    CHECK_FALSE(withGap.turnBefore(1200).has_value()); // its turn before fell into the gap
}
