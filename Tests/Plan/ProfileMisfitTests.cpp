// SPDX-License-Identifier: GPL-3.0-or-later
// What is a misfit between what is heard and what a profile tells, on invented turns. Recorded music:
// Tests/Reference/AlignmentTests.cpp.

#include "Plan/ProfileMisfit.h"

#include "Tests/Support/Random.h"
#include "Tests/Support/RealTimeTrap.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace headland::plan;
using namespace headland::test;
using Bins = std::vector<ProfileBin>;

namespace {

/// Strokes that die away, at random, at most `apart` bins from each other; `gain` of all.
Bins strokes(unsigned seed, int count, double gain = 1, double apart = 100) {
    Random random(seed);
    Bins bins;
    auto level_um = 10.0;
    auto left = 0;
    for (int i = 0; i < count; ++i, --left) {
        if (left == 0 || i == 0) {
            level_um = random.between(5, 80);
            left = static_cast<int>(random.between(apart / 5, apart));
        }
        const auto value_um = static_cast<float>(gain * (level_um *= 0.99));
        bins.push_back({value_um, value_um, 0});
    }
    return bins;
}

Bins part(const Bins& bins, std::ptrdiff_t from) {
    return {bins.begin() + from, bins.begin() + from + 400};
}

} // namespace

TEST_CASE("What the profile tells is no misfit, nor 10 ms beside it, nor a little louder", "[misfit]") {
    const auto all = strokes(1, 1200);
    CHECK(misfit(part(all, 400), part(all, 400)).correlation == Approx(1));
    for (const auto off : {-2, -1, 0, 1, 2})
        CHECK_FALSE(misfit(part(all, 400), part(all, 400 + off)).noticed);
    for (const auto off : {-4, 4}) // as far as is looked
        CHECK(misfit(part(all, 400), part(all, 400 + off)).correlation > 0.998);
    const auto quick = strokes(4, 1200, 1, 25);
    for (const auto off : {-2, 2})
        CHECK_FALSE(misfit(part(quick, 400), part(quick, 400 + off)).noticed);
    const auto louder = misfit(part(strokes(1, 1200, 1.08), 400), part(all, 400));
    CHECK_FALSE(louder.noticed);
    CHECK(louder.level_db == Approx(20 * std::log10(1.08)).margin(0.05));
}

TEST_CASE("Another level, another place and another program are misfits", "[misfit]") {
    const auto all = strokes(1, 1200);
    CHECK(misfit(part(strokes(1, 1200, 1.41), 400), part(all, 400)).noticed);
    CHECK(misfit(part(strokes(1, 1200, 0.71), 400), part(all, 400)).noticed);
    CHECK(misfit(part(all, 400), part(all, 444)).noticed);
    CHECK(misfit(part(all, 400), part(strokes(2, 1200), 400)).noticed);
    CHECK(misfit(part(all, 400), Bins(400)).noticed);
    CHECK(misfit(Bins(400), part(all, 400)).noticed);
}

TEST_CASE("Silence and steady tones fit each other", "[misfit]") {
    CHECK_FALSE(misfit(Bins(400), Bins(400)).noticed);
    CHECK_FALSE(misfit(Bins(400, {30, 30, 1}), Bins(400, {30, 30, 1})).noticed);
    CHECK(misfit(Bins(400, {30, 30, 1}), Bins(400, {42, 42, 1})).noticed);
    Random random(3); // what the least digits of 16 bits move the groove by
    Bins hiss, otherHiss;
    for (auto* bins : {&hiss, &otherHiss})
        for (int i = 0; i < 400; ++i)
            bins->push_back({static_cast<float>(random.between(0, 0.05)),
                             static_cast<float>(random.between(0, 0.05)), 0});
    CHECK_FALSE(misfit(hiss, otherHiss).noticed);
}

TEST_CASE("Of too little nothing is said, and what is no number is silence", "[misfit]") {
    constexpr auto nan = std::numeric_limits<float>::quiet_NaN();
    constexpr auto infinite = std::numeric_limits<float>::infinity();
    CHECK_FALSE(misfit(Bins(39), Bins(400, {30, 30, 1})).noticed);
    CHECK_FALSE(misfit({}, {}).noticed);
    const auto bad = misfit(Bins(400, {nan, infinite, -infinite}), Bins(400));
    CHECK_FALSE(bad.noticed);
    CHECK(std::isfinite(bad.level_db + bad.correlation + bad.difference));
    CHECK(misfit(Bins(500, {30, 30, 1}), Bins(900, {30, 30, 1})).level_db == 0);
}

TEST_CASE("Looking for a misfit allocates nothing", "[misfit]") {
    const auto all = strokes(1, 1200);
    const auto heard = part(all, 400), told = part(all, 410);
    ProfileMisfit result;
    RealTimeTrap trap;
    {
        const RealTimeTrap::Scope scope(trap);
        result = misfit(heard, told);
    }
    CHECK(trap.caught().empty());
    CHECK(result.correlation > 0);
}
