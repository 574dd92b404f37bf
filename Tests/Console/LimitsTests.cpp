// SPDX-License-Identifier: GPL-3.0-or-later
// What counts as spoilt, how much and where, on summaries gathered from invented frames.

#include "Console/Limits.h"
#include "Tests/Log/Frames.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::console;

namespace {

constexpr double length_s = 20;

/// The faults of the invented side with `change` made to the sector that ends at or just after 9 s.
std::vector<Fault> faultsWith(const cut::CutSettings& settings,
                              const std::function<void(cut::CutFrame&)>& change) {
    cut::SummaryBuilder summary(settings);
    auto frames = test::inventedSide(settings, length_s);
    const auto place =
        std::find_if(frames.begin(), frames.end(), [](const auto& frame) { return frame.time_s >= 9; });
    change(*place);
    for (const auto& frame : frames)
        summary.frame(frame);
    return faultsOf(summary.summary(), settings);
}

void checkOne(const std::vector<Fault>& faults, Limit limit, double value, double allowed) {
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].limit == limit);
    CHECK(faults[0].value == Approx(value));
    CHECK(faults[0].allowed == Approx(allowed));
    CHECK(faults[0].time_s == Approx(9).margin(0.01));
    CHECK(faults[0].diameter_mm > 288);
}

} // namespace

TEST_CASE("A side without flags that fits is clean, tight curvature is no fault") {
    const cut::CutSettings settings;
    CHECK(faultsWith(settings, [](auto&) {}).empty());
    CHECK(faultsWith(settings, [](auto& frame) { test::raise(frame, cut::Flag::tight); }).empty());
    // Foreseen, but not what was cut: what was cut decides.
    CHECK(faultsWith(settings, [](auto& frame) { test::raise(frame, cut::Flag::previewShort); }).empty());
}

TEST_CASE("Each limit is a fault by itself, with figure, limit and place") {
    cut::CutSettings settings;
    checkOne(faultsWith(settings,
                        [](auto& frame) {
                            frame.landMin_um = 3.5;
                            test::raise(frame, cut::Flag::thinLand);
                        }),
             Limit::land, 3.5, 12);
    checkOne(faultsWith(settings,
                        [](auto& frame) {
                            frame.widthMin_um = 21;
                            test::raise(frame, cut::Flag::narrow);
                        }),
             Limit::width, 21, 30);
    checkOne(faultsWith(settings,
                        [](auto& frame) {
                            frame.widthMin_um = -2;
                            test::raise(frame, cut::Flag::narrow);
                            test::raise(frame, cut::Flag::lifted);
                        }),
             Limit::lift, -2, 0);
    settings.back_angle_deg = 30;
    checkOne(faultsWith(settings,
                        [](auto& frame) {
                            frame.slopePeak = 0.9;
                            test::raise(frame, cut::Flag::steep);
                        }),
             Limit::slope, 0.9, 0.57735);
}

TEST_CASE("Land set next to nothing that overcuts is a fault although it is not thin") {
    cut::CutSettings settings;
    settings.land_min_um = 0.2;
    checkOne(faultsWith(settings,
                        [](auto& frame) {
                            frame.landMin_um = -0.1;
                            test::raise(frame, cut::Flag::overcut);
                        }),
             Limit::land, -0.1, 0.2);
}

TEST_CASE("The disc gives way where the innermost radius is reached") {
    cut::CutSettings settings;
    settings.end_radius_mm = 145.9;
    const auto faults = faultsWith(settings, [](auto&) {});
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].limit == Limit::disc);
    CHECK(faults[0].value < -0.5);
    CHECK(faults[0].diameter_mm == Approx(291.8));
    // 0.4 mm at a pitch between 100 and 140 µm, 1.8 s a turn
    CHECK(faults[0].time_s > 0.4 / 0.14 * 1.8);
    CHECK(faults[0].time_s < 0.4 / 0.1 * 1.8);
}

TEST_CASE("Several faults come in order of program time") {
    cut::CutSettings settings;
    settings.end_radius_mm = 145.9; // reached before 9 s
    const auto faults = faultsWith(settings, [](auto& frame) {
        frame.slopePeak = 1.2;
        test::raise(frame, cut::Flag::steep);
    });
    REQUIRE(faults.size() == 2);
    CHECK(faults[0].limit == Limit::disc);
    CHECK(faults[1].limit == Limit::slope);
}

TEST_CASE("A fault in the lead-out has its figure and place too") {
    const cut::CutSettings settings;
    cut::SummaryBuilder summary(settings);
    auto frames = test::inventedSide(settings, length_s);
    frames.back().landMin_um = 4;
    test::raise(frames.back(), cut::Flag::thinLand);
    for (const auto& frame : frames)
        summary.frame(frame);
    const auto faults = faultsOf(summary.summary(), settings);
    REQUIRE(faults.size() == 1);
    CHECK(faults[0].value == 4);
    CHECK(faults[0].time_s == Approx(frames.back().time_s));
}
