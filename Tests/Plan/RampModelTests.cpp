// SPDX-License-Identifier: GPL-3.0-or-later
// The planner's closed form of an axis: against the simulated lathe, which is other code, and against itself step by step.
#include "Lathe/Axis.h"
#include "Plan/RampModel.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

using namespace headland::plan;

TEST_CASE("The planner's ramp model predicts the simulated lathe", "[plan]") {
    constexpr double rate_hz = 48000;
    constexpr std::size_t samples = 337;
    constexpr double sector_s = samples / rate_hz;
    for (const auto lag_s : {0.0, 0.004, 0.05}) {
        const RampModel model(sector_s, lag_s);
        headland::lathe::Axis axis({400, lag_s}, rate_hz, samples);
        axis.start(80);
        AxisState state{80, 80};
        auto integral = 0.0;
        for (const auto end_um : {82.0, 84.5, 84.5, 83.0, 81.0, 83.0}) {
            axis.follow({state.command_um, (end_um - state.command_um) / samples}, 400);
            std::vector<double> a(samples), i(samples);
            axis.run(a, i);
            const auto next = model.after(state, end_um);
            integral += model.integral(state, next);
            REQUIRE(next.axis_um == Approx(axis.axis_um()).epsilon(1e-12));
            REQUIRE(integral == Approx(axis.integral_um_s()).epsilon(1e-12));
            state = next;
        }
    }
}

TEST_CASE("The full-slew forecast is the ramp model taken sector by sector", "[plan]") {
    constexpr double sector_s = 0.007, slew_um_s = 400;
    for (const auto lag_s : {0.0, 0.01, 0.08}) {
        const RampModel model(sector_s, lag_s);
        const FullSlewForecast forecast(sector_s, lag_s, slew_um_s, 60);
        const AxisState now{90, 86};
        for (const auto first_um : {88.0, 92.5}) {
            auto state = model.after(now, first_um);
            auto integral = model.integral(now, state);
            for (int j = 1; j <= 60; ++j) {
                INFO("lag " << lag_s << ", sector " << j);
                REQUIRE(forecast.axis(j).at(first_um, now) == Approx(state.axis_um).epsilon(1e-11));
                REQUIRE(forecast.integral(j).at(first_um, now) == Approx(integral).epsilon(1e-11));
                const auto next = model.after(state, state.command_um + slew_um_s * sector_s);
                integral += model.integral(state, next);
                state = next;
            }
        }
    }
}

TEST_CASE("How far a sector's path leaves the straight line between its ends is bounded, and closely",
          "[plan]") {
    constexpr double sector_s = 0.007, slew_um_s = 400;
    constexpr int steps = 4000;
    for (const auto lag_s : {0.0, 1e-300, 1e-5, 0.001, 0.007, 0.05, 1.0}) {
        const RampModel model(sector_s, lag_s);
        for (const auto behind_um : {-2.0, -0.4, 0.0, 0.4, 2.0})
            for (const auto rise : {-1.0, -0.5, 0.0, 1.0}) {
                const AxisState start{90, 90 + (lag_s > 0 ? behind_um : 0)};
                const auto end = model.after(start, 90 + rise * slew_um_s * sector_s);
                const auto whole_um_s = model.integral(start, end);
                auto above_um = 0.0, integralAbove_um_s = 0.0, integralBelow_um_s = 0.0;
                for (int i = 1; i <= steps; ++i) { // a part of the sector is a sector of its own
                    const auto part = static_cast<double>(i) / steps;
                    const RampModel first(sector_s * part, lag_s);
                    const auto middle = first.after(start, 90 + part * rise * slew_um_s * sector_s);
                    above_um =
                        std::max(above_um, middle.axis_um - std::lerp(start.axis_um, end.axis_um, part));
                    const auto over_um_s = first.integral(start, middle) - part * whole_um_s;
                    integralAbove_um_s = std::max(integralAbove_um_s, over_um_s);
                    integralBelow_um_s = std::max(integralBelow_um_s, -over_um_s);
                }
                INFO("lag " << lag_s << ", behind " << behind_um << ", rise " << rise);
                constexpr double rounding_um = 1e-9;
                if (lag_s == 0
                    || lag_s > 1e-4) { // shorter, the path is a step that the grid here does not see
                    CHECK(model.above_um(start, end) == Approx(above_um).epsilon(1e-3).margin(rounding_um));
                }
                CHECK(model.above_um(start, end) >= above_um - rounding_um);
                CHECK(model.integralAbove_um_s(start, end) >= integralAbove_um_s - rounding_um * sector_s);
                CHECK(model.integralBelow_um_s(start, end) >= integralBelow_um_s - rounding_um * sector_s);
                // Never more than twice what a drive that turns at once would do, or what the lag still holds.
                const auto most = slew_um_s * sector_s * sector_s / 4 + std::abs(behind_um) * sector_s / 2;
                CHECK(model.integralAbove_um_s(start, end) <= most);
                CHECK(model.integralBelow_um_s(start, end) <= most);
            }
    }
}
