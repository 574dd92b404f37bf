// SPDX-License-Identifier: GPL-3.0-or-later
// The ring of the last turns' edges, on edges that are a formula of their sample: what is held comes out to the bit, what is
// not is never made up.
#include "Log/EdgeRing.h"

#include <catch2/catch.hpp>

#include <numbers>
#include <vector>

using namespace headland;

namespace {

constexpr double turn_samples = 40.25, turns = 3;
constexpr std::int64_t length = 121; ///< samples that three such turns take
constexpr double lowered_mm = 146.25;

/// The formula: straight lines, exact in a float up to here, so that between two samples it is known as well.
double outer_um(double sample) {
    return -0.5 * sample;
}
double inner_um(double sample) {
    return -0.75 * sample - 40;
}

void addTo(log::EdgeRing& ring, std::int64_t first, std::int64_t last) {
    std::vector<cut::EdgePoint> points;
    for (auto sample = first; sample < last; ++sample)
        points.push_back({static_cast<float>(outer_um(static_cast<double>(sample))),
                          static_cast<float>(inner_um(static_cast<double>(sample)))});
    ring.add({lowered_mm, first, points});
}

bool isThere(const cut::EdgePoint& point, double sample) {
    return point.outer_um == outer_um(sample) && point.inner_um == inner_um(sample);
}

bool isNowhere(const cut::EdgePoint& point) {
    return std::isnan(point.outer_um) && std::isnan(point.inner_um);
}

/// It holds these samples as they were told, and none around them.
void requireHolds(const log::EdgeRing& ring, std::int64_t first, std::int64_t last) {
    REQUIRE(ring.oldest() == first);
    REQUIRE(ring.next() == last);
    auto wrong = 0;
    for (auto sample = first; sample < last; ++sample)
        wrong += isThere(ring.at(sample), static_cast<double>(sample)) ? 0 : 1;
    for (auto sample = first - 3 * length; sample < first; ++sample)
        wrong += isNowhere(ring.at(sample)) ? 0 : 1;
    for (auto sample = last; sample < last + 3 * length; ++sample)
        wrong += isNowhere(ring.at(sample)) ? 0 : 1;
    CHECK(wrong == 0);
}

/// A patch with points at every sample, `half` on either side.
cut::GroovePatch patchOf(std::size_t half) {
    cut::GroovePatch patch;
    patch.step_rad = 2 * std::numbers::pi / turn_samples;
    patch.points = 2 * half + 1;
    return patch;
}

} // namespace

TEST_CASE("A ring holds the last turns, however they came", "[edges]") {
    log::EdgeRing ring(turn_samples, turns);
    requireHolds(ring, 0, 0);
    std::int64_t told = 0;
    for (const std::int64_t run : {1, 7, 0, 50, 63, 1, 20, 119, 120, 121, 1}) {
        addTo(ring, told, told + run);
        told += run;
        requireHolds(ring, std::max<std::int64_t>(0, told - length), told);
    }
    CHECK(ring.loweredRadius_mm() == lowered_mm);
    CHECK(ring.turn_samples() == turn_samples);
}

TEST_CASE("Of a run longer than the ring the last turns are held", "[edges]") {
    log::EdgeRing ring(turn_samples, turns);
    addTo(ring, 0, 5 * length + 17);
    requireHolds(ring, 4 * length + 17, 5 * length + 17);
}

TEST_CASE("What came before missing edges is forgotten, and the ring fills again", "[edges]") {
    log::EdgeRing ring(turn_samples, turns);
    addTo(ring, 0, 100);
    addTo(ring, 101, 110); // one is missing
    requireHolds(ring, 101, 110);
    addTo(ring, 110, 200);
    requireHolds(ring, 101, 200);
    addTo(ring, 200, 250);
    requireHolds(ring, 250 - length, 250);
    addTo(ring, 3000, 3001); // more than the ring has
    requireHolds(ring, 3000, 3001);
    addTo(ring, 0, 30); // begun anew
    requireHolds(ring, 0, 30);
}

TEST_CASE("Between two samples the edges are on the straight line, and nowhere beside what is held",
          "[edges]") {
    log::EdgeRing ring(turn_samples, turns);
    addTo(ring, 0, 200);
    for (const auto share : {0.0, 0.25, 0.5, 0.75})
        for (auto sample = 80.0; sample < 199; ++sample)
            REQUIRE(isThere(ring.between(sample + share), sample + share));
    CHECK(isThere(ring.between(79), 79)); // the oldest
    CHECK(isNowhere(ring.between(78.75)));
    CHECK(isThere(ring.between(199), 199)); // the newest
    CHECK(isNowhere(ring.between(199.25)));
    CHECK(isNowhere(ring.between(-0.5)));
}

TEST_CASE("A patch of a ring reaches as far as was asked, in steps of whole samples", "[edges]") {
    for (const double rate_hz : {44100.0, 192000.0}) {
        const auto turn = rate_hz * 1.8;
        log::EdgeRing ring(turn, 1);
        addTo(ring, 0, 10);
        for (const double radius_mm : {146.0, 60.0}) {
            const auto patch = ring.emptyPatch(radius_mm, 0.8, 12.5);
            CHECK(patch.time_s == 12.5);
            CHECK(patch.startRadius_mm == lowered_mm);
            CHECK(patch.points % 2 == 1);
            CHECK(patch.turns.empty());
            const auto step = log::step_samples(patch, turn);
            CHECK(patch.step_rad * turn / (2 * std::numbers::pi) == Approx(step).epsilon(1e-12));
            const auto step_mm = patch.step_rad * radius_mm;
            CHECK(step_mm >= cut::pointSpacing_um / 1000);
            const auto reach_mm = step_mm * static_cast<double>(patch.points / 2);
            CHECK(reach_mm >= 0.8 - 1e-9);
            CHECK(reach_mm < 0.8 + step_mm);
        }
        CHECK(log::step_samples(ring.emptyPatch(60, 0.8, 0), turn) == (rate_hz > 100000 ? 3 : 1));
    }
}

TEST_CASE("A turn of a patch has the edges a turn away, also where that is between two samples", "[edges]") {
    log::EdgeRing ring(turn_samples, turns);
    addTo(ring, 0, 300);
    for (const std::int64_t step : {1, 3}) {
        auto patch = patchOf(4);
        patch.step_rad *= static_cast<double>(step);
        for (const auto turn : {-2, -1, 0, 1}) {
            constexpr std::int64_t middle = 275;
            const auto taken = ring.turnOf(patch, middle - (turn > 0 ? 50 : 0), turn);
            REQUIRE(taken.has_value());
            CHECK(taken->turn == turn);
            REQUIRE(taken->edges.size() == 9);
            for (int i = 0; i < 9; ++i)
                CHECK(isThere(taken->edges[static_cast<std::size_t>(i)],
                              static_cast<double>(middle - (turn > 0 ? 50 : 0)) + turn * turn_samples
                                  + static_cast<double>(step) * (i - 4)));
        }
    }
}

TEST_CASE("A turn that is held in part has nothing where it is not held, and one that is not is none",
          "[edges]") {
    log::EdgeRing ring(turn_samples, turns);
    addTo(ring, 0, 300); // held: 179 and on
    const auto patch = patchOf(4);
    const auto old = ring.turnOf(patch, 261, -2); // its middle is at 180.5
    REQUIRE(old.has_value());
    for (int i = 0; i < 9; ++i) {
        const auto sample = 180.5 + (i - 4);
        const auto& point = old->edges[static_cast<std::size_t>(i)];
        CHECK((sample < 179 ? isNowhere(point) : isThere(point, sample)));
    }
    const auto coming = ring.turnOf(patch, 299, 0);
    REQUIRE(coming.has_value());
    CHECK(isThere(coming->edges[4], 299));
    CHECK(isNowhere(coming->edges[5]));
    CHECK_FALSE(ring.turnOf(patch, 299, 1).has_value());
    CHECK_FALSE(ring.turnOf(patch, 299, -4).has_value());
    CHECK_FALSE(log::EdgeRing(turn_samples, turns).turnOf(patch, 0, 0).has_value());
}
