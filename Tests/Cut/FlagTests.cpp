// SPDX-License-Identifier: GPL-3.0-or-later
// Every flag that is about a figure of its frame is raised where that figure is beyond its limit, and nowhere else.
#include "Cut/SlopeLimit.h"
#include "Tests/Cut/TestPrograms.h"

#include <catch2/catch.hpp>

#include <functional>

using namespace headland;
using cut::CutFrame;
using cut::Flag;

TEST_CASE("A flag stands where its figure is beyond its limit, and nowhere else") {
    // Loud, close and known late, so that everything happens.
    cut::CutSettings s;
    s.disc_level_db = 9;
    s.preview_s = 0.3;
    s.depth_peak_max_um = 70;
    s.tip_radius_um = 18;
    s.back_angle_deg = 40;
    auto program = test::randomProgram(11, 12);
    test::addTone(program, 3, 1, 50, 0.3, 1, -1);
    test::addTone(program, 6, 1, 12000, 0.3, 1, 1);
    const auto frames = test::cutAll(s, program);
    const std::vector<std::pair<Flag, std::function<bool(const CutFrame&)>>> rules{
        {Flag::overcut, [](const auto& f) { return f.landMin_um < 0; }},
        {Flag::thinLand, [&](const auto& f) { return f.landMin_um < s.land_min_um - cut::planTolerance_um; }},
        {Flag::narrow, [&](const auto& f) { return f.widthMin_um < s.width_min_um - cut::planTolerance_um; }},
        {Flag::lifted, [](const auto& f) { return f.widthMin_um <= 0; }},
        {Flag::steep, [&](const auto& f) { return f.slopePeak > cut::slopeLimit(s); }},
        {Flag::tight, [&](const auto& f) { return f.curvatureMin_um < s.tip_radius_um; }},
        {Flag::previewShort, [](const auto& f) { return f.shortfall_um > cut::planTolerance_um; }},
        {Flag::tooDeep, [&](const auto& f) { return f.depthPeak_um > s.depth_peak_max_um; }},
    };
    for (const auto& [flag, isBeyond] : rules) {
        INFO(cut::name(flag));
        auto raised = 0;
        for (const auto& f : frames) {
            raised += f.has(flag) ? 1 : 0;
            REQUIRE(f.has(flag) == isBeyond(f));
        }
        CHECK(raised > 0);
        CHECK(raised < static_cast<int>(frames.size()));
    }
}
