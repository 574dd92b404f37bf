// SPDX-License-Identifier: GPL-3.0-or-later
// What whoever watches a cut is shown of it, against every edge and every frame of the cut itself.
#include "Log/CutInView.h"
#include "Tests/Cut/EdgeKeep.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

#include <map>
#include <numbers>

using namespace headland;

namespace {

constexpr double rate_hz = 44100, half_mm = 0.6;

/// A side that overcuts, is narrow, steep and tight. A turn is a whole number of samples at 60 rpm, and not at 78.26.
cut::CutSettings badSide(double rpm) {
    cut::CutSettings settings;
    settings.rpm = rpm;
    settings.preview_s = 0.1;
    settings.disc_level_db = 6;
    settings.depth_max_um = 30;
    settings.depth_basic_um = 22;
    return settings;
}

/// A cut that is shown piece by piece.
class Showing {
public:
    Showing(const cut::CutSettings& s, std::uint64_t seed, double length_s)
        : settings(s),
          cut(test::cutWithEdges(settings, test::randomProgram(seed, length_s))),
          view(settings, rate_hz),
          turn_samples(
              disc::SectorClock(rate_hz, settings.turn_s(), settings.sectors_per_turn).turnSamples()) {}

    /// Up to so many frames, the edges of each `ahead` frames early.
    void showTo(std::size_t frames, std::size_t ahead = 0) {
        for (; shown < frames; ++shown) {
            const auto until = cut.ends[std::min(shown + ahead, cut.ends.size() - 1)];
            if (until > edgesShown)
                view.edges({cut.loweredRadius_mm, static_cast<std::int64_t>(edgesShown),
                            std::span(cut.points).subspan(edgesShown, until - edgesShown)});
            edgesShown = std::max(edgesShown, until);
            view.frame(cut.frames[shown]);
        }
    }

    /// The edges at a place between two samples, from all the edges of the cut; nothing where there is none yet.
    cut::EdgePoint edgesAt(double sample) const {
        const auto whole = std::floor(sample);
        const auto share = static_cast<float>(sample - whole);
        const auto at = static_cast<std::size_t>(whole);
        if (sample < 0 || at + (share > 0 ? 1 : 0) >= edgesShown)
            return cut::noEdge;
        if (share == 0)
            return cut.points[at];
        const auto &a = cut.points[at], &b = cut.points[at + 1];
        return {a.outer_um + share * (b.outer_um - a.outer_um),
                a.inner_um + share * (b.inner_um - a.inner_um)};
    }

    const cut::CutSettings settings;
    const test::EdgeKeep cut;
    log::CutInView view;
    const double turn_samples;
    std::size_t shown = 0, edgesShown = 0;
};

bool isSame(float a, float b) {
    return a == b || (std::isnan(a) && std::isnan(b));
}

/// What is at the stylus now is the newest groove, to the bit; returns how many turns there are.
std::size_t requireAtStylus(const Showing& showing) {
    const auto patch = showing.view.atStylus(half_mm);
    REQUIRE(patch.has_value());
    CHECK(patch->startRadius_mm == showing.cut.loweredRadius_mm);
    CHECK(patch->points % 2 == 1);
    const auto half = static_cast<std::int64_t>(patch->points / 2);
    const auto step =
        std::llround(patch->step_rad / (2 * std::numbers::pi) * showing.turn_samples); // samples
    const auto& frame = showing.cut.frames[showing.shown - 1];
    CHECK(patch->step_rad * static_cast<double>(half) * frame.radius_mm
          == Approx(half_mm).margin(patch->step_rad * frame.radius_mm));
    const auto middle = static_cast<std::int64_t>(showing.edgesShown) - 1 - half * step; // half a view behind
    const auto frameEnd = static_cast<double>(showing.cut.ends[showing.shown - 1]);
    CHECK(patch->time_s
          == Approx(frame.time_s + (static_cast<double>(middle) - frameEnd) / rate_hz).margin(1 / rate_hz));
    auto wrong = 0;
    for (const auto& turn : patch->turns) {
        REQUIRE(turn.edges.size() == patch->points);
        for (std::size_t i = 0; i < patch->points; ++i) {
            const auto at =
                showing.edgesAt(static_cast<double>(middle) + turn.turn * showing.turn_samples
                                + static_cast<double>((static_cast<std::int64_t>(i) - half) * step));
            wrong +=
                isSame(turn.edges[i].outer_um, at.outer_um) && isSame(turn.edges[i].inner_um, at.inner_um)
                    ? 0
                    : 1;
        }
    }
    CHECK(wrong == 0);
    REQUIRE_FALSE(patch->turns.empty());
    CHECK(patch->turns.back().turn == 0);
    CHECK(patch->turns.front().turn == 1 - static_cast<int>(patch->turns.size()));
    CHECK(isSame(patch->turns.back().edges.back().outer_um,
                 showing.cut.points[showing.edgesShown - 1].outer_um));
    return patch->turns.size();
}

/// The places that would be kept, by the keeper alone.
std::map<int, log::PlaceRecord> placesOf(const Showing& showing) {
    std::map<int, log::PlaceRecord> places;
    log::EdgeKeeper keeper(showing.settings, rate_hz,
                           [&](int number, const log::PlaceRecord& place) { places[number] = place; });
    std::size_t told = 0;
    for (std::size_t i = 0; i < showing.cut.frames.size(); ++i) {
        keeper.edges({showing.cut.loweredRadius_mm, static_cast<std::int64_t>(told),
                      std::span(showing.cut.points).subspan(told, showing.cut.ends[i] - told)});
        told = showing.cut.ends[i];
        keeper.frame(showing.cut.frames[i]);
    }
    keeper.finish();
    return places;
}

} // namespace

TEST_CASE("At the stylus is the groove just cut, with the turns before it", "[edges]") {
    for (const double rpm : {60.0, 78.26}) {
        Showing showing(badSide(rpm), 93, 8);
        CHECK_FALSE(showing.view.atStylus(half_mm).has_value()); // nothing is cut yet
        const auto perTurn = static_cast<std::size_t>(showing.settings.sectors_per_turn);
        showing.showTo(perTurn / 2);
        CHECK(requireAtStylus(showing) == 1);
        showing.showTo(perTurn * 3 / 2);
        CHECK(requireAtStylus(showing) == 2);
        for (const auto frames : {perTurn * 4, perTurn * 5 + 17, perTurn * 7 + 3}) {
            showing.showTo(frames);
            CHECK(requireAtStylus(showing) == log::CutInView::turnsBefore + 1);
        }
    }
}

TEST_CASE("At the stylus the time is right, also when the edges are ahead of the frames", "[edges]") {
    for (const std::size_t ahead : {1, 5, 60}) {
        Showing showing(badSide(78.26), 94, 6);
        showing.showTo(1400, ahead);
        REQUIRE(showing.edgesShown > showing.cut.ends[showing.shown - 1]);
        CHECK(requireAtStylus(showing) == log::CutInView::turnsBefore + 1);
    }
}

TEST_CASE("Without edges, or without frames, nothing is at the stylus", "[edges]") {
    Showing showing(badSide(60), 95, 2);
    log::CutInView framesOnly(showing.settings, rate_hz), edgesOnly(showing.settings, rate_hz);
    framesOnly.frame(showing.cut.frames[0]);
    edgesOnly.edges({showing.cut.loweredRadius_mm, 0, std::span(showing.cut.points).first(1000)});
    CHECK_FALSE(framesOnly.atStylus(half_mm).has_value());
    CHECK_FALSE(edgesOnly.atStylus(half_mm).has_value());
}

TEST_CASE("The kept place that is nearest is shown, and none that is too far away", "[edges]") {
    Showing showing(badSide(78), 93, 14);
    const auto& view = showing.view;
    CHECK_FALSE(view.keptNear(5, 1000).has_value());
    showing.showTo(showing.cut.frames.size());
    showing.view.finish();
    const auto places = placesOf(showing);
    REQUIRE(places.size() > 10);
    auto none = 0, others = 0;
    for (auto time_s = -3.0; time_s < 20; time_s += 0.0137)
        for (const auto within_s : {0.05, 0.5, 5.0}) {
            auto least_s = std::numeric_limits<double>::infinity();
            for (const auto& [number, place] : places)
                least_s = std::min(least_s, std::abs(place.patch.time_s - time_s));
            const auto shown = view.keptNear(time_s, within_s);
            REQUIRE(shown.has_value() == (least_s <= within_s));
            none += shown ? 0 : 1;
            others += shown ? 1 : 0;
            if (shown)
                REQUIRE(std::abs(shown->time_s - time_s) == least_s);
        }
    CHECK(none > 100);
    CHECK(others > 100);
    for (const auto& [number, place] : places) { // with the very edges that were kept
        const auto shown = view.keptNear(place.patch.time_s, 0);
        REQUIRE(shown.has_value());
        CHECK(shown->turns.size() == place.patch.turns.size());
        REQUIRE_FALSE(shown->turns.empty());
        CHECK(isSame(shown->turns[0].edges[0].outer_um, place.patch.turns[0].edges[0].outer_um));
    }
}

TEST_CASE("A place that waits for turns to come is shown when the cut has ended", "[edges]") {
    Showing showing(badSide(78), 93, 14);
    showing.showTo(showing.cut.frames.size() / 2);
    std::size_t before = 0, after = 0;
    const auto count = [&](std::size_t& shown) {
        for (const auto& [number, place] : placesOf(showing))
            shown += showing.view.keptNear(place.patch.time_s, 0) ? 1u : 0u;
    };
    count(before);
    showing.view.finish();
    count(after);
    CHECK(before > 0);
    CHECK(after > before);
}

TEST_CASE("Frames are shown from where one has seen them", "[edges]") {
    Showing showing(badSide(60), 95, 2);
    showing.showTo(100);
    const auto& all = showing.cut.frames;
    for (const std::size_t seen : {std::size_t{0}, std::size_t{1}, std::size_t{99}, std::size_t{100}}) {
        const auto fresh = showing.view.framesAfter(seen);
        REQUIRE(fresh.size() == 100 - seen);
        CHECK(test::sameBits(fresh, {all.begin() + static_cast<std::ptrdiff_t>(seen), all.begin() + 100}));
    }
    CHECK(showing.view.framesAfter(101).empty());
    CHECK(showing.view.settings().rpm == 60);
    CHECK(showing.view.sampleRate_hz() == rate_hz);
}
