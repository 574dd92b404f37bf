// SPDX-License-Identifier: GPL-3.0-or-later
// When the pitch opens for a burst that comes out of silence, against a slow independent search: the latest moment from
// which full slew, the greatest pitch and the carriage's lag still give every sector its room, by simulation in steps
// of 20 µs and bisection. The engine may decide once a sector only, so it may open up to two sectors sooner; never later.
#include "Tests/Reference/EngineRun.h"

#include <catch2/catch.hpp>
#include <vector>

using namespace headland;
using namespace headland::test;

namespace {

constexpr double rate_hz = 44100;
constexpr double step_s = 20e-6;
constexpr double burstStart_s = 9, burstLength_s = 0.3;

/// Spacing a sector asks for at its end, against one turn before.
struct Demand {
    double time_s, spacing_um;
};

/// A carriage that rests at a pitch, then opens at full slew at `opening_s`.
class Carriage {
public:
    Carriage(const cut::CutSettings& s, double resting_um, double opening_s, double from_s)
        : settings(s), resting(resting_um), opening(opening_s), start(from_s), axis_um(resting_um) {}

    /// Distance travelled since the start, µm, at each step up to `until_s`.
    std::vector<double> travel(double until_s) {
        std::vector<double> travelled_um{0};
        for (auto t = start; t < until_s; t += step_s) {
            const auto command_um = std::min(
                settings.pitch_max_um,
                resting + settings.pitch_slew_um_per_rev_s * std::max(0.0, t + step_s / 2 - opening));
            const auto before_um = axis_um;
            axis_um = settings.carriage_lag_s > 0
                          ? axis_um + (command_um - axis_um) * step_s / settings.carriage_lag_s
                          : command_um;
            travelled_um.push_back(travelled_um.back()
                                   + (before_um + axis_um) / 2 * step_s / settings.turn_s());
        }
        return travelled_um;
    }

private:
    cut::CutSettings settings;
    double resting, opening, start, axis_um;
};

bool meets(const cut::CutSettings& s, double resting_um, double opening_s,
           const std::vector<Demand>& demands) {
    const auto from_s = demands.front().time_s - 2.5 * s.turn_s();
    const auto travelled_um =
        Carriage(s, resting_um, opening_s, from_s).travel(demands.back().time_s + step_s);
    const auto at = [&](double t) {
        return travelled_um[static_cast<std::size_t>(std::lround((t - from_s) / step_s))];
    };
    return std::all_of(demands.begin(), demands.end(), [&](const Demand& d) {
        return at(d.time_s) - at(d.time_s - s.turn_s()) >= d.spacing_um - 1e-3;
    });
}

/// The latest moment from which all demands are met, to 50 µs.
double latestOpening_s(const cut::CutSettings& s, double resting_um, const std::vector<Demand>& demands) {
    auto early_s = demands.front().time_s - 2 * s.turn_s(), late_s = demands.back().time_s;
    REQUIRE(meets(s, resting_um, early_s, demands));
    REQUIRE_FALSE(meets(s, resting_um, late_s, demands));
    while (late_s - early_s > 50e-6) {
        const auto middle_s = (early_s + late_s) / 2;
        (meets(s, resting_um, middle_s, demands) ? early_s : late_s) = middle_s;
    }
    return early_s;
}

/// Silence, then a mono burst; mono does not lift the stylus, so that the depth stays as it is.
std::vector<cut::CutFrame> cutBurst(const cut::CutSettings& settings, double peak_dbfs) {
    const auto start = static_cast<std::int64_t>(burstStart_s * rate_hz);
    const auto end = start + static_cast<std::int64_t>(burstLength_s * rate_hz);
    return cutProgram(settings, rate_hz, 14, [&](std::int64_t i) {
        if (i < start || i >= end)
            return std::array<float, 2>{0, 0};
        const auto t = static_cast<double>(i - start) / rate_hz;
        const auto value =
            static_cast<float>(std::pow(10, peak_dbfs / 20) * std::sin(2 * std::numbers::pi * 300 * t));
        return std::array<float, 2>{value, value};
    });
}

struct Case {
    double peak_dbfs, slew_um_s, lag_s, greatest_um;
};

} // namespace

TEST_CASE("the pitch opens for a burst as late as is safe", "[opening]") {
    const auto c = GENERATE(Case{-14, 400, 0, 400}, Case{-14, 400, 0.05, 400}, Case{-10, 400, 0.05, 400},
                            Case{-8, 800, 0.1, 1000}, Case{-8, 600, 0.05, 260}, Case{-8, 600, 0, 260},
                            Case{-20, 200, 0.2, 400});
    INFO(c.peak_dbfs << " dBFS, slew " << c.slew_um_s << ", lag " << c.lag_s << ", at most "
                     << c.greatest_um);
    cut::CutSettings settings;
    settings.pitch_slew_um_per_rev_s = c.slew_um_s;
    settings.carriage_lag_s = c.lag_s;
    settings.pitch_max_um = c.greatest_um;
    const auto frames = cutBurst(settings, c.peak_dbfs);
    const auto sector_s = settings.turn_s() / settings.sectors_per_turn;

    // What the burst asks for until it is over; a turn later it asks again, when the pitch is open already.
    const auto resting_um = between(frames, 5, 5.1).front().pitchCommand_um;
    std::vector<Demand> demands;
    for (const auto& f : between(frames, burstStart_s - 0.2, burstStart_s + burstLength_s))
        if (f.demand_um > resting_um + 0.01)
            demands.push_back({f.time_s, f.demand_um});
    REQUIRE(demands.size() > 20);
    const auto expected_s = latestOpening_s(settings, resting_um, demands);

    const auto program = between(frames, 5, 14);
    const auto opening = std::find_if(program.begin(), program.end(), [&](const cut::CutFrame& f) {
        return f.pitchCommand_um > resting_um + 1e-6;
    });
    REQUIRE(opening != program.end());
    const auto opening_s = opening->time_s - sector_s; // its sector's start
    CHECK(opening_s <= expected_s + 1e-4);
    CHECK(opening_s >= expected_s - 2 * sector_s);

    // And the room was there.
    CHECK(rangeOf(program, &cut::CutFrame::landMin_um).least >= settings.land_min_um - 0.1);
    CHECK(std::none_of(program.begin(), program.end(),
                       [](const auto& f) { return f.has(cut::Flag::previewShort); }));
}
