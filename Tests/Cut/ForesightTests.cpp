// SPDX-License-Identifier: GPL-3.0-or-later
// What the engine says is coming is what then comes.
#include "Tests/Cut/TestPrograms.h"

#include "Cut/CutEngine.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <memory>
#include <vector>

using namespace headland;

namespace {

class Frames final : public cut::FrameSink {
public:
    void frame(const cut::CutFrame& frame) noexcept override { all.push_back(frame); }
    std::vector<cut::CutFrame> all;
};

/// The index of the frame whose sector ends at or just after a program time.
std::size_t frameEnding(const std::vector<cut::CutFrame>& frames, double time_s) {
    std::size_t at = 0;
    while (at < frames.size() && frames[at].time_s < time_s - 1e-4)
        ++at;
    return at;
}

} // namespace

TEST_CASE("What is foreseen comes: swings, demand, and the plan of pitch and depth", "[foresight]") {
    const auto program = test::randomProgram(31, 30);
    cut::CutSettings settings;
    cut::CutEngine engine;
    engine.prepare(settings, program.rate_hz);
    Frames frames;
    std::vector<std::unique_ptr<plan::Foresight>> seen;
    constexpr int block = 4410;
    for (std::size_t i = 0; i + block <= program.length(); i += block) {
        engine.process(&program.left[i], &program.right[i], block, frames);
        engine.foresee(*seen.emplace_back(std::make_unique<plan::Foresight>()));
    }
    engine.finish(frames);
    auto compared = 0;
    auto greatestPitchError_um = 0.0;
    const auto sector_s = settings.sector_s();
    for (std::size_t n = 40; n + 40 < seen.size(); n += 7) {
        const auto& coming = *seen[n];
        REQUIRE(coming.count > 200);
        REQUIRE(coming.step_s == Approx(sector_s));
        for (std::size_t step = 0; step + 8 < coming.count;
             ++step) { // the last are not known with their tolerances yet
            const auto at = frameEnding(frames.all, coming.time_s + static_cast<double>(step + 1) * sector_s);
            REQUIRE(at < frames.all.size());
            const auto& then = frames.all[at];
            const auto& foreseen = coming.steps()[step];
            INFO("look " << n << ", step " << step << ", time " << then.time_s);
            REQUIRE(static_cast<double>(foreseen.outerSwing_um) == Approx(then.outerSwing_um).margin(1e-3));
            REQUIRE(static_cast<double>(foreseen.innerSwing_um) == Approx(then.innerSwing_um).margin(1e-3));
            if (step + 80 < coming.count) { // further on the depth is not certain yet
                // What its tightest place asks for; the frame tells the greatest of the sector.
                REQUIRE(foreseen.spacing_um <= then.demand_um + 0.02);
                REQUIRE(foreseen.spacing_um > then.demand_um - 30);
                REQUIRE(static_cast<double>(foreseen.depth_um) == Approx(then.depth_um).margin(0.02));
            }
            if (step < 4)
                greatestPitchError_um = std::max(
                    greatestPitchError_um, std::abs(static_cast<double>(foreseen.pitch_um) - then.pitch_um));
            ++compared;
        }
    }
    CHECK(compared > 2000);
    CHECK(greatestPitchError_um < 3);
}

TEST_CASE("The spacing foreseen is the one that is made, as far as the plan stands", "[foresight]") {
    test::Program quiet;
    quiet.rate_hz = 44100;
    quiet.left.assign(44100 * 12, 0.0f);
    quiet.right = quiet.left;
    cut::CutSettings settings;
    cut::CutEngine engine;
    engine.prepare(settings, quiet.rate_hz);
    Frames frames;
    engine.process(quiet.left.data(), quiet.right.data(), 44100 * 10, frames);
    plan::Foresight coming;
    engine.foresee(coming);
    engine.process(quiet.left.data(), quiet.right.data(), 44100 * 2, frames);
    engine.finish(frames);
    REQUIRE(coming.count > 200);
    for (std::size_t step = 0; step < 40; ++step) {
        const auto at =
            frameEnding(frames.all, coming.time_s + static_cast<double>(step + 1) * settings.sector_s());
        const auto turn = static_cast<std::size_t>(settings.sectors_per_turn);
        const auto made_um = 1000 * (frames.all[at - turn].radius_mm - frames.all[at].radius_mm);
        CHECK(static_cast<double>(coming.steps()[step].madeSpacing_um) == Approx(made_um).margin(0.1));
    }
}

TEST_CASE("With the stylus up the program is foreseen, and no plan", "[foresight]") {
    const auto program = test::randomProgram(5, 6);
    cut::CutEngine engine;
    engine.prepare({}, program.rate_hz);
    Frames none;
    std::vector<double> pitch(program.length()), depth(program.length());
    engine.live({program.left.data(), program.right.data(), program.left.data(), program.right.data(),
                 static_cast<int>(program.length()), pitch.data(), depth.data()},
                none);
    plan::Foresight coming;
    engine.foresee(coming);
    CHECK(none.all.empty());
    CHECK(coming.count > 200);
    CHECK(std::isnan(coming.time_s));
    auto greatest_um = 0.0f;
    for (const auto& step : coming.steps()) {
        greatest_um = std::max(greatest_um, step.outerSwing_um);
        CHECK(std::isnan(step.spacing_um));
        CHECK(std::isnan(step.depth_um));
    }
    CHECK(greatest_um > 1);
}
