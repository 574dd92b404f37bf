// SPDX-License-Identifier: GPL-3.0-or-later
// Where a rehearsed groove lay: at every sector, between sectors, before the first and after the last.
#include "Disc/DiscEstimator.h"
#include "Disc/RehearsedSide.h"

#include <catch2/catch.hpp>

using headland::disc::DiscEstimator;
using headland::disc::EstimateGrade;
using headland::disc::RehearsedSide;

namespace {

constexpr double sector_s = 0.01, first_s = -1;
constexpr int sectors = 1001;

/// Faster and faster inward.
double radiusAt_mm(double time_s) {
    const auto t = time_s - first_s;
    return 100 - t - 0.05 * t * t;
}

RehearsedSide madeSide() {
    RehearsedSide side;
    for (int i = 0; i < sectors; ++i) {
        const auto time_s = first_s + sector_s * i;
        side.add(time_s, radiusAt_mm(time_s));
    }
    return side;
}

} // namespace

TEST_CASE("A rehearsed side says where the groove lay at any time, and where it ended", "[estimate]") {
    const auto side = madeSide();
    CHECK_FALSE(side.isEmpty());
    CHECK(RehearsedSide().isEmpty());
    const auto last_s = first_s + sector_s * (sectors - 1);
    CHECK(side.end_mm() == radiusAt_mm(last_s));
    for (const auto time_s : {-1.0, -0.995, -0.123, 0.0, 3.3333, 8.9})
        CHECK(side.radius_mm(time_s) == Approx(radiusAt_mm(time_s)).margin(1e-4));
    CHECK(side.radius_mm(first_s - 5) == Approx(radiusAt_mm(first_s)).margin(1e-5));
    CHECK(side.radius_mm(last_s + 5) == side.end_mm());
    for (auto time_s = last_s - 0.2; time_s < last_s + 0.1; time_s += 0.001) // the last steps
        CHECK(side.radius_mm(time_s) == Approx(radiusAt_mm(std::min(time_s, last_s))).margin(0.1));
}

TEST_CASE("As rehearsed, the end is known from the beginning, and moves with the groove", "[estimate]") {
    const auto side = madeSide();
    DiscEstimator estimator({100, 60, 1.8, 180, 1200, 9, {}, &side});
    const auto expected_mm = 2 * side.end_mm();
    for (const auto time_s : {-0.9, 0.5, 4.0, 8.0}) {
        const auto said = estimator.update(radiusAt_mm(time_s), time_s, true);
        CHECK(said.grade == EstimateGrade::rehearsed);
        CHECK(said.endDiameter_mm == Approx(expected_mm).margin(0.001));
        CHECK(said.endDiameterUncertainty_mm < 0.3);
        CHECK(estimator.update(radiusAt_mm(time_s) + 0.25, time_s, true).endDiameter_mm
              == Approx(expected_mm + 0.5).margin(0.001));
        CHECK(estimator.update(radiusAt_mm(time_s), time_s, false).grade == EstimateGrade::lengthKnown);
    }
    DiscEstimator unrehearsed({100, 60, 1.8, 180, 1200, 9});
    CHECK(unrehearsed.update(99, 1, true).grade == EstimateGrade::lengthKnown);
}
