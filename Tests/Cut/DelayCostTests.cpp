// SPDX-License-Identifier: GPL-3.0-or-later
// What another delay would have cost, reckoned from frames, is what a cut with that delay does cost.
#include "Cut/DelayCost.h"

#include "Cut/CutSummary.h"
#include "Tests/Cut/TestPrograms.h"

#include <catch2/catch.hpp>

#include <vector>

using namespace headland;

namespace {

class Frames final : public cut::FrameSink {
public:
    void frame(const cut::CutFrame& frame) noexcept override { all.push_back(frame); }
    std::vector<cut::CutFrame> all;
};

std::vector<cut::CutFrame> cutSide(const test::Program& program, const cut::CutSettings& settings) {
    Frames frames;
    cut::CutEngine engine;
    engine.prepare(settings, program.rate_hz);
    engine.process(program.left.data(), program.right.data(), static_cast<int>(program.length()), frames);
    engine.finish(frames);
    return frames.all;
}

const auto goOn = [] { return false; };

} // namespace

TEST_CASE("Another delay costs, reckoned from frames, what a cut with it costs", "[delay]") {
    const auto program = test::randomProgram(7, 40);
    cut::CutSettings settings;
    const auto frames = cutSide(program, settings);
    for (const auto turns : {0.25, 0.5, 1.0, 1.5, 3.0}) {
        auto other = settings;
        other.preview_s = turns * settings.turn_s();
        const auto really = cutSide(program, other);
        auto used_mm = 0.0, short_um = 0.0;
        std::int64_t shortSectors = 0;
        for (const auto& frame : really)
            if (frame.state == cut::State::program) {
                used_mm = settings.start_radius_mm - frame.radius_mm;
                short_um = std::max(short_um, frame.shortfall_um);
                shortSectors += frame.shortfall_um > cut::planTolerance_um ? 1 : 0;
            }
        const auto cost = cut::costOfDelay(other, program.rate_hz, frames, goOn);
        REQUIRE(cost);
        INFO(turns << " turns");
        CHECK(cost->preview_s == other.preview_s);
        // The log has the swings of whole sectors: a little more is asked for.
        CHECK(cost->used_mm == Approx(used_mm).epsilon(0.02));
        CHECK(cost->shortfallGreatest_um == Approx(short_um).margin(4));
        CHECK((cost->shortfallSectors > 0) == (shortSectors > 0));
        CHECK(cost->shortfallSectors <= 2 * shortSectors); // how many is a rough figure
        CHECK(shortSectors <= 2 * cost->shortfallSectors);
        CHECK(used_mm > 1);
    }
}

TEST_CASE("Frames that are missing are silence, and the work can be stopped", "[delay]") {
    const auto program = test::randomProgram(8, 20);
    const cut::CutSettings settings;
    auto frames = cutSide(program, settings);
    const auto whole = cut::costOfDelay(settings, program.rate_hz, frames, goOn);
    frames.erase(frames.begin() + 2000, frames.begin() + 2600);
    const auto less = cut::costOfDelay(settings, program.rate_hz, frames, goOn);
    REQUIRE(whole);
    REQUIRE(less);
    CHECK(less->used_mm < whole->used_mm);
    CHECK(less->used_mm > 0.5 * whole->used_mm);
    CHECK_FALSE(cut::costOfDelay(settings, program.rate_hz, frames, [] { return true; }));
    CHECK(cut::costOfDelay(settings, program.rate_hz, std::vector<cut::CutFrame>(), goOn)->used_mm == 0);
}
