// SPDX-License-Identifier: GPL-3.0-or-later
// When the pitch must open for a step of demand that comes out of silence: the hard floor against a slow independent
// search, the latest moment from which full slew, the greatest pitch and the carriage's lag still give every sector its
// room, by simulation in steps of 20 µs and bisection. The floor decides once a sector only, so it may open up to two
// sectors sooner; never later. The whole engine, whose optimiser may open sooner still, must give the room as well.
#include "Plan/PitchPlanner.h"
#include "Tests/Reference/EngineRun.h"

#include <catch2/catch.hpp>
#include <vector>

using namespace headland;
using namespace headland::test;

namespace {

constexpr int sectorsPerTurn = 256;
constexpr double turn_s = 1.8, sector_s = turn_s / sectorsPerTurn;
constexpr double silent_um = 62; ///< spacing of silence
constexpr double step_s = 20e-6;

/// Silence, then a step of demand, some sectors long, then silence again. Boundaries are numbered from the start of a
/// carriage that has rested at the silent pitch for long.
struct StepOfDemand {
    double spacing_um;
    int first = 3 * sectorsPerTurn; ///< boundary
    int length = 40;                ///< boundaries

    double at(int boundary) const {
        return boundary >= first && boundary < first + length ? spacing_um : silent_um;
    }
};

struct Carriage {
    double slew_um_s, lag_s, greatest_um;
};

/// Position, µm, at each time step of a carriage that opens at full slew at `opening_s`.
std::vector<double> travel(const Carriage& carriage, double opening_s, double until_s) {
    std::vector<double> position_um{0};
    auto axis_um = silent_um;
    for (double t = 0; t < until_s; t += step_s) {
        const auto opened_s = std::max(0.0, t + step_s / 2 - opening_s);
        const auto command_um = std::min(carriage.greatest_um, silent_um + carriage.slew_um_s * opened_s);
        const auto before_um = axis_um;
        axis_um =
            carriage.lag_s > 0 ? axis_um + (command_um - axis_um) * step_s / carriage.lag_s : command_um;
        position_um.push_back(position_um.back() + (before_um + axis_um) / 2 * step_s / turn_s);
    }
    return position_um;
}

bool meets(const Carriage& carriage, double opening_s, const StepOfDemand& demand) {
    const auto last = demand.first + demand.length - 1;
    const auto position_um = travel(carriage, opening_s, last * sector_s + step_s);
    const auto at = [&](int boundary) {
        return position_um[static_cast<std::size_t>(std::lround(boundary * sector_s / step_s))];
    };
    for (auto b = demand.first; b <= last; ++b)
        if (at(b) - at(b - sectorsPerTurn) < demand.spacing_um - 1e-3)
            return false;
    return true;
}

/// The latest moment from which the step is met, to 50 µs.
double latestOpening_s(const Carriage& carriage, const StepOfDemand& demand) {
    auto late_s = demand.first * sector_s, early_s = late_s - turn_s;
    REQUIRE(meets(carriage, early_s, demand));
    REQUIRE_FALSE(meets(carriage, late_s, demand));
    while (late_s - early_s > 50e-6) {
        const auto middle_s = (early_s + late_s) / 2;
        (meets(carriage, middle_s, demand) ? early_s : late_s) = middle_s;
    }
    return early_s;
}

/// What the floor alone makes of the step, heard one turn ahead.
struct Opening {
    double opening_s;    ///< start of the sector in which the pitch begins to rise
    double shortfall_um; ///< the worst that was called
};

Opening openingOfFloor(const Carriage& carriage, const StepOfDemand& demand) {
    plan::PlanSetup setup{};
    setup.turn_s = turn_s;
    setup.sectorsPerTurn = setup.previewSectors = sectorsPerTurn;
    setup.pitch = {silent_um, carriage.greatest_um, carriage.slew_um_s, carriage.lag_s};
    constexpr int horizon = 2 * sectorsPerTurn;
    plan::PitchPlanner planner(setup, horizon);
    planner.start(silent_um);
    const plan::PitchAim floorOnly{
        true, false, silent_um, carriage.greatest_um, carriage.slew_um_s, carriage.slew_um_s};
    Opening result{-1, 0};
    std::vector<double> spacing_um(horizon);
    for (int b = 0; b < demand.first + demand.length; ++b) {
        for (int j = 1; j <= horizon; ++j)
            spacing_um[static_cast<std::size_t>(j) - 1] =
                b + j < sectorsPerTurn ? -std::numeric_limits<double>::infinity() : demand.at(b + j);
        const auto step = planner.step({spacing_um, sectorsPerTurn, 0}, floorOnly);
        // To hold between boundaries too, the pitch is a little above for a moment where the demand begins.
        if (b < demand.first && step.command_um <= silent_um + 0.1)
            result.opening_s = -1;
        else if (result.opening_s < 0)
            result.opening_s = b * sector_s;
        result.shortfall_um = std::max(result.shortfall_um, step.shortfall_um);
    }
    return result;
}

struct Case {
    double spacing_um;
    Carriage carriage;
};

} // namespace

TEST_CASE("the floor opens for a step of demand as late as is safe", "[opening]") {
    // The last four run into the greatest pitch before the step.
    const auto c = GENERATE(Case{80, {400, 0, 400}}, Case{100, {400, 0.05, 400}}, Case{150, {800, 0.1, 1000}},
                            Case{90, {200, 0.2, 400}}, Case{200, {400, 0.05, 400}}, Case{200, {600, 0, 260}},
                            Case{190, {600, 0.05, 260}}, Case{210, {1500, 0.15, 260}});
    INFO(c.spacing_um << " µm, slew " << c.carriage.slew_um_s << ", lag " << c.carriage.lag_s << ", at most "
                      << c.carriage.greatest_um);
    const StepOfDemand demand{c.spacing_um};
    const auto expected_s = latestOpening_s(c.carriage, demand);
    const auto floor = openingOfFloor(c.carriage, demand);
    CHECK(floor.opening_s <= expected_s + 1e-4);
    CHECK(floor.opening_s >= expected_s - 2 * sector_s);
    CHECK(floor.shortfall_um < 0.01);
}

TEST_CASE("a burst out of silence has its room", "[opening]") {
    // Mono, so that the stylus is not lifted and the depth stays as it is.
    const auto peak_dbfs = GENERATE(-20.0, -14.0, -8.0);
    const auto lag_s = GENERATE(0.0, 0.05, 0.2);
    INFO(peak_dbfs << " dBFS, lag " << lag_s << " s");
    constexpr double rate_hz = 44100, start_s = 9, length_s = 0.3;
    cut::CutSettings settings;
    settings.carriage_lag_s = lag_s;
    const auto frames = cutProgram(settings, rate_hz, 14, [&](std::int64_t i) {
        const auto t = static_cast<double>(i) / rate_hz - start_s;
        const auto value = t < 0 || t >= length_s
                               ? 0.0
                               : std::pow(10, peak_dbfs / 20) * std::sin(2 * std::numbers::pi * 300 * t);
        return std::array<float, 2>{static_cast<float>(value), static_cast<float>(value)};
    });
    const auto program = between(frames, 5, 14);
    CHECK(rangeOf(program, &cut::CutFrame::demand_um).greatest > silent_um + 15); // it was worth the test
    CHECK(rangeOf(program, &cut::CutFrame::landMin_um).least >= settings.land_min_um - 0.1);
    CHECK(std::none_of(program.begin(), program.end(),
                       [](const auto& f) { return f.has(cut::Flag::previewShort); }));
}
