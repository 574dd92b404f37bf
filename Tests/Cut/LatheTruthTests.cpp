// SPDX-License-Identifier: GPL-3.0-or-later
// A lathe that is not as told: the default tolerances and land absorb it, and the groove stays a groove.
#include "Tests/Cut/TestPrograms.h"

#include <catch2/catch.hpp>

using namespace headland;

namespace {

struct Least {
    double land_um = 1e9, width_um = 1e9;
    double landSum_um = 0; ///< of all sectors: another groove has another sum
};

Least cutAs(const cut::LatheTruth& truth, const test::Program& program) {
    cut::CutSettings settings;
    settings.depth_max_um = 90;
    cut::CutEngine engine;
    engine.prepare(settings, program.rate_hz, truth);
    test::FrameKeeper keeper;
    engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()), keeper);
    engine.finish(keeper);
    Least least;
    for (const auto& f : keeper.frames) {
        if (f.state != cut::State::program)
            continue;
        if (!std::isnan(f.landMin_um)) {
            least.land_um = std::min(least.land_um, f.landMin_um);
            least.landSum_um += f.landMin_um;
        }
        least.width_um = std::min(least.width_um, f.widthMin_um);
    }
    return least;
}

/// A stroke out of silence, as hard as a turn of preview can just take: the pitch opens at full slew.
test::Program stroke() {
    auto program = test::silence(16);
    test::addTone(program, 9, 0.5, 45, 0.75);
    return program;
}

} // namespace

TEST_CASE("A lathe that is not as told still keeps its turns apart", "[cut]") {
    const std::vector<std::pair<const char*, cut::LatheTruth>> truths{
        {"carriage slew 10 % slower", {0.9, 1, 1, 0}},  {"lag 30 % longer", {1, 1.3, 1, 0}},
        {"platter 0.1 % fast", {1, 1, 1.001, 0}},       {"platter 0.1 % slow", {1, 1, 0.999, 0}},
        {"preview 5 ms long", {1, 1, 1, 0.005}},        {"preview 5 ms short", {1, 1, 1, -0.005}},
        {"all of it at once", {0.9, 1.3, 0.999, 0.005}}};
    std::vector<test::Program> programs{stroke()};
    for (unsigned seed = 1; seed <= 4; ++seed)
        programs.push_back(test::randomProgram(seed, 30));
    for (const auto& program : programs) {
        const auto asTold = cutAs({}, program);
        REQUIRE(asTold.land_um >= 12 - 0.5);
        for (const auto& [name, truth] : truths) {
            const auto least = cutAs(truth, program);
            INFO(name);
            CHECK(least.land_um > 0);
            CHECK(least.width_um > 20);                   // narrower than set, by less than a third
            CHECK(least.landSum_um != asTold.landSum_um); // it was really another groove
        }
    }
}

TEST_CASE("A lathe of half the slew it is believed to have does not", "[cut]") {
    CHECK(cutAs({0.5, 1, 1, 0}, stroke()).land_um < 0);
}
