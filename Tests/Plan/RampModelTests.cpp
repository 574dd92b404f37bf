// SPDX-License-Identifier: GPL-3.0-or-later
// The planner's closed form of an axis: against the simulated lathe, which is other code, and against itself step by step.
#include "Lathe/Axis.h"
#include "Plan/RampModel.h"

#include <catch2/catch.hpp>
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
