// SPDX-License-Identifier: GPL-3.0-or-later
// What is kept of the groove around flagged places, against all the edges of the cut and against its frames.
#include "Log/EdgeKeeper.h"
#include "Tests/Cut/EdgeKeep.h"

#include <catch2/catch.hpp>

#include <map>

using namespace headland;

namespace {

constexpr double near_um = 0.03; ///< two roundings to a float

/// A side that overcuts, is narrow, steep and tight: loud, and the preview is far too short.
cut::CutSettings badSide(double rpm = 78) {
    cut::CutSettings settings;
    settings.rpm = rpm;
    settings.preview_s = 0.1;
    settings.disc_level_db = 6;
    settings.depth_max_um = 30;
    settings.depth_basic_um = 22;
    return settings;
}

using Places = std::map<int, log::PlaceRecord>;

/// Everything at once, the edges of each frame `ahead` frames early.
Places keptOf(const test::EdgeKeep& cut, const cut::CutSettings& settings, double rate_hz,
              std::size_t ahead = 0, std::size_t lostFrom = 0, std::size_t lostTo = 0) {
    Places places;
    log::EdgeKeeper keeper(settings, rate_hz,
                           [&](int number, const log::PlaceRecord& place) { places[number] = place; });
    std::size_t told = 0;
    for (std::size_t i = 0; i < cut.frames.size(); ++i) {
        const auto until = cut.ends[std::min(i + ahead, cut.ends.size() - 1)];
        if (until > told && (until <= lostFrom || told >= lostTo))
            keeper.edges({cut.loweredRadius_mm, static_cast<std::int64_t>(told),
                          std::span(cut.points).subspan(told, until - told)});
        told = until;
        keeper.frame(cut.frames[i]);
    }
    keeper.finish();
    return places;
}

double turnSamples(const cut::CutSettings& settings, double rate_hz) {
    return disc::SectorClock(rate_hz, settings.turn_s(), settings.sectors_per_turn).turnSamples();
}

const cut::PatchTurn* turnOf(const cut::GroovePatch& patch, int turn) {
    for (const auto& candidate : patch.turns)
        if (candidate.turn == turn)
            return &candidate;
    return nullptr;
}

cut::EdgePoint middleOf(const cut::GroovePatch& patch, int turn) {
    const auto* found = turnOf(patch, turn);
    return found == nullptr ? cut::noEdge : found->edges[patch.points / 2];
}

/// The passages of one flag, by their worst figure.
std::vector<cut::Passage> passagesOf(const test::EdgeKeep& cut, const cut::CutSettings& settings,
                                     cut::Flag flag) {
    cut::SummaryBuilder builder(settings);
    for (const auto& frame : cut.frames)
        builder.frame(frame);
    auto passages = builder.summary().passages;
    std::erase_if(passages,
                  [flag](const auto& passage) { return passage.flag != flag || !passage.worst.valid; });
    return passages;
}

const log::PlaceRecord* placeOf(const Places& places, const cut::Passage& passage, double sector_s) {
    for (const auto& [number, place] : places)
        if (place.flag == passage.flag && place.patch.time_s <= passage.worst.time_s
            && place.patch.time_s > passage.worst.time_s - 1.5 * sector_s)
            return &place;
    return nullptr;
}

} // namespace

TEST_CASE("Every flagged passage has its worst place kept, with the land and the width of its frame",
          "[edges]") {
    for (const double rpm : {78.0, 78.26}) {
        const auto settings = badSide(rpm);
        const auto cut = test::cutWithEdges(settings, test::randomProgram(93, 14));
        const auto places = keptOf(cut, settings, 44100);
        auto overcuts = 0, narrow = 0;
        for (const auto& passage : passagesOf(cut, settings, cut::Flag::overcut)) {
            const auto* place = placeOf(places, passage, settings.sector_s());
            REQUIRE(place != nullptr);
            const auto land_um = middleOf(place->patch, -1).inner_um - middleOf(place->patch, 0).outer_um;
            CHECK(land_um == Approx(passage.worst.value).margin(near_um));
            ++overcuts;
        }
        for (const auto& passage : passagesOf(cut, settings, cut::Flag::narrow)) {
            const auto* place = placeOf(places, passage, settings.sector_s());
            REQUIRE(place != nullptr);
            const auto middle = middleOf(place->patch, 0);
            CHECK(middle.outer_um - middle.inner_um == Approx(passage.worst.value).margin(near_um));
            ++narrow;
        }
        for (const auto flag : {cut::Flag::steep, cut::Flag::tight, cut::Flag::previewShort})
            for (const auto& passage : passagesOf(cut, settings, flag))
                CHECK(placeOf(places, passage, settings.sector_s()) != nullptr);
        CHECK(overcuts > 2);
        CHECK(narrow > 2);
    }
}

TEST_CASE("A kept place holds five turns over 1.6 mm, the very edges of the cut", "[edges]") {
    const auto settings = badSide(60); // a turn is a whole number of samples
    const auto turn_samples = turnSamples(settings, 44100);
    REQUIRE(turn_samples == 44100);
    const auto cut = test::cutWithEdges(settings, test::randomProgram(94, 10));
    const auto places = keptOf(cut, settings, 44100);
    REQUIRE(places.size() > 5);
    auto whole = 0;
    for (const auto& [number, place] : places) {
        const auto& patch = place.patch;
        CHECK(patch.points % 2 == 1);
        CHECK(patch.startRadius_mm == cut.loweredRadius_mm);
        const auto radius_mm = patch.startRadius_mm + middleOf(patch, 0).outer_um / 1000;
        const auto step_mm = patch.step_rad * radius_mm;
        CHECK(step_mm * static_cast<double>(patch.points - 1) == Approx(1.6).margin(2 * step_mm));
        CHECK(step_mm >= 0.0025);
        const auto frame = std::lower_bound(cut.frames.begin(), cut.frames.end(), patch.time_s,
                                            [](const auto& f, double time_s) { return f.time_s < time_s; });
        const auto zero = frame->turn * turn_samples - frame->time_s * 44100; // sample of program time 0
        const auto middle = std::llround(zero + patch.time_s * 44100);
        const auto step = std::llround(patch.step_rad / (2 * std::numbers::pi) * turn_samples);
        for (const auto& turn : patch.turns) {
            REQUIRE(turn.edges.size() == patch.points);
            for (std::size_t i = 0; i < patch.points; ++i) {
                if (std::isnan(turn.edges[i].outer_um))
                    continue;
                const auto sample =
                    middle + std::llround(turn.turn * turn_samples)
                    + (static_cast<std::int64_t>(i) - static_cast<std::int64_t>(patch.points / 2)) * step;
                const auto& point = cut.points[static_cast<std::size_t>(sample)];
                REQUIRE(turn.edges[i].outer_um == point.outer_um);
                REQUIRE(turn.edges[i].inner_um == point.inner_um);
            }
        }
        whole += patch.turns.size() == 5 ? 1 : 0;
    }
    CHECK(whole > 3);
}

TEST_CASE("Edges that come well ahead of their frames keep the same places", "[edges]") {
    const auto settings = badSide();
    const auto cut = test::cutWithEdges(settings, test::randomProgram(94, 10));
    const auto inStep = keptOf(cut, settings, 44100), ahead = keptOf(cut, settings, 44100, 700);
    REQUIRE(inStep.size() == ahead.size());
    for (const auto& [number, place] : inStep) {
        CHECK(ahead.at(number).patch.time_s == place.patch.time_s);
        REQUIRE(ahead.at(number).patch.turns.size() == place.patch.turns.size());
        CHECK(middleOf(ahead.at(number).patch, 0).outer_um == middleOf(place.patch, 0).outer_um);
    }
}

namespace {

/// How many edges `fewer` lacks; those it has must be those of `all`.
int lacking(const Places& fewer, const Places& all) {
    auto count = 0;
    for (const auto& [number, place] : all) {
        const auto same = std::find_if(fewer.begin(), fewer.end(), [&place = place](const auto& other) {
            return other.second.flag == place.flag && other.second.patch.time_s == place.patch.time_s;
        });
        if (same == fewer.end()) { // the place is another one where the worst sample is not there
            ++count;
            continue;
        }
        count += static_cast<int>(place.patch.turns.size() - same->second.patch.turns.size());
        for (const auto& turn : same->second.patch.turns) {
            const auto* expected = turnOf(place.patch, turn.turn);
            REQUIRE(expected != nullptr);
            for (std::size_t i = 0; i < turn.edges.size(); ++i)
                if (std::isnan(turn.edges[i].outer_um))
                    ++count;
                else
                    REQUIRE(turn.edges[i].outer_um == expected->edges[i].outer_um);
        }
    }
    return count;
}

} // namespace

TEST_CASE("Where edges were lost, or came too early, there are none, never wrong ones", "[edges]") {
    const auto settings = badSide();
    const auto cut = test::cutWithEdges(settings, test::randomProgram(94, 10));
    const auto all = keptOf(cut, settings, 44100);
    REQUIRE(all.size() > 5);
    const auto usual = lacking(all, all); // at the beginning and the end of the cut
    const auto lostFrom = cut.points.size() / 4, lostTo = 3 * lostFrom; // wherever the program's strokes come
    CHECK(lacking(keptOf(cut, settings, 44100, 0, lostFrom, lostTo), all) > usual);
    CHECK(lacking(keptOf(cut, settings, 44100, 1400), all) > usual); // five turns and more ahead
}

TEST_CASE("Of each kind the sixteen worst passages are kept", "[edges]") {
    cut::CutSettings settings;
    settings.rpm = 78;
    settings.disc_level_db = 12;
    settings.back_angle_deg = 25; // every stroke is steep
    auto program = test::silence(90);
    for (int stroke = 0; stroke < 36; ++stroke) // in an order that is neither rising nor falling
        test::addTone(program, 2 + 2.3 * stroke, 0.1, 3000, 0.2 + 0.01 * ((stroke * 17) % 36));
    const auto cut = test::cutWithEdges(settings, program);
    auto passages = passagesOf(cut, settings, cut::Flag::steep);
    REQUIRE(passages.size() == 36);
    const auto places = keptOf(cut, settings, 44100);
    std::sort(passages.begin(), passages.end(),
              [](const auto& a, const auto& b) { return a.worst.value > b.worst.value; });
    for (std::size_t i = 0; i < passages.size(); ++i)
        CHECK((placeOf(places, passages[i], settings.sector_s()) != nullptr) == (i < 16));
}

TEST_CASE("A place at the very end of a cut has the turns there are", "[edges]") {
    auto settings = badSide();
    auto program = test::randomProgram(95, 3);
    program.left.resize(5 * 44100);
    program.right.resize(5 * 44100);
    test::addTone(program, 4.6, 0.2, 2000, 0.7);
    cut::CutEngine engine;
    engine.prepare(settings, program.rate_hz);
    test::EdgeKeep cut;
    engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()), cut);
    REQUIRE(
        std::any_of(cut.frames.end() - 200, cut.frames.end(), [](const auto& f) { return f.flags != 0; }));
    const auto places = keptOf(cut, settings, 44100);
    auto late = 0;
    for (const auto& [number, place] : places) {
        const auto isLate = place.patch.time_s + 2 * settings.turn_s() > cut.frames.back().time_s;
        REQUIRE(std::isfinite(middleOf(place.patch, 0).outer_um));
        CHECK(std::isnan(middleOf(place.patch, 2).outer_um) == isLate);
        late += isLate ? 1 : 0;
    }
    CHECK(late > 0);
    CHECK(late < static_cast<int>(places.size()));
}
