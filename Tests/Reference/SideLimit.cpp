// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tests/Reference/SideLimit.h"

#include "Groove/RecordingCharacteristic.h"
#include "Groove/WallFilter.h"
#include "Tests/Reference/ProgramRows.h"

#include <algorithm>
#include <ClpSimplex.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <span>

namespace headland::reference {

namespace {

constexpr int plansPerTurn = 50, binsPerPlan = 64, binsPerTurn = plansPerTurn * binsPerPlan;
constexpr int partsPerBin = 10; ///< so that a tolerance widens by what it says and not by whole bins
constexpr auto endless = std::numeric_limits<double>::max();

/// The extremes of both edges in parts of bins, from the program's first sample on.
struct Edges {
    std::vector<double> outer_um, inner_um;
};

Edges edgesOf(const cut::CutSettings& s, const Recording& recording) {
    const auto design = groove::designWallFilter(
        recording.rate_hz, s.highpass_hz,
        groove::fullScaleVelocity_um_s(s.reference_velocity_cm_s, s.alignment_dbfs, s.disc_level_db));
    groove::DisplacementFilter filter(design);
    const auto count = recording.samples.size() / 2;
    const auto perSample = binsPerTurn * partsPerBin / (recording.rate_hz * s.turn_s());
    Edges edges;
    edges.outer_um.assign(static_cast<std::size_t>(static_cast<double>(count) * perSample) + 1, -endless);
    edges.inner_um = edges.outer_um;
    for (std::size_t i = 0; i < count; ++i) {
        const auto left = recording.samples[2 * i], right = recording.samples[2 * i + 1];
        double leftWall_um = 0, rightWall_um = 0;
        filter.process(std::span(&left, 1), std::span(&right, 1), std::span(&leftWall_um, 1),
                       std::span(&rightWall_um, 1));
        const auto part = static_cast<std::size_t>(static_cast<double>(i) * perSample);
        edges.outer_um[part] = std::max(edges.outer_um[part], std::numbers::sqrt2 * rightWall_um);
        edges.inner_um[part] = std::max(edges.inner_um[part], -std::numbers::sqrt2 * leftWall_um);
    }
    return edges;
}

/// A cut's figures at any program time, straight between its sectors.
class Log {
public:
    Log(const std::vector<cut::CutFrame>& f, double depthBasic_um) : frames(f), basic_um(depthBasic_um) {}

    double depth_um(double time_s) const {
        return at(
            time_s, [](const cut::CutFrame& f) { return f.depth_um; }, basic_um);
    }
    /// Distance inwards from the first frame, µm.
    double position_um(double time_s) const {
        const auto start_mm = frames.front().radius_mm;
        return at(
            time_s, [=](const cut::CutFrame& f) { return (start_mm - f.radius_mm) * 1000; }, 0.0);
    }

private:
    template <typename Figure>
    double at(double time_s, Figure figure, double before) const {
        const auto next = std::partition_point(frames.begin(), frames.end(),
                                               [=](const auto& f) { return f.time_s < time_s; });
        if (next == frames.begin())
            return before;
        if (next == frames.end())
            return figure(frames.back());
        const auto& from = *(next - 1);
        const auto part = (time_s - from.time_s) / (next->time_s - from.time_s);
        return figure(from) + part * (figure(*next) - figure(from));
    }
    const std::vector<cut::CutFrame>& frames;
    double basic_um;
};

/// What one plan sector demands: so much spacing at this bin.
struct Demand {
    double bin; ///< from the program's start, its middle
    double spacing_um;
};

std::vector<Demand> demandsOf(const cut::CutSettings& s, const Recording& recording, const Log& log) {
    const auto edges = edgesOf(s, recording);
    const auto count =
        static_cast<std::ptrdiff_t>(edges.outer_um.size()) / partsPerBin / binsPerPlan * binsPerPlan;
    const auto bin_s = s.turn_s() / binsPerTurn;
    constexpr std::ptrdiff_t turnParts = binsPerTurn * partsPerBin;
    const auto platter = static_cast<std::ptrdiff_t>(std::ceil(s.speed_tolerance * turnParts - 1e-9));
    const auto preview = static_cast<std::ptrdiff_t>(std::ceil(s.preview_tolerance_s / bin_s - 1e-9));
    const auto greatest = [](const std::vector<double>& all, std::ptrdiff_t from, std::ptrdiff_t to) {
        auto most = -endless;
        for (auto i = std::max<std::ptrdiff_t>(0, from);
             i <= std::min(to, static_cast<std::ptrdiff_t>(all.size()) - 1); ++i)
            most = std::max(most, all[static_cast<std::size_t>(i)]);
        return most == -endless ? 0.0 : most; // before the program: silence
    };
    std::vector<double> pair_um;
    for (std::ptrdiff_t b = 0; b < count; ++b) {
        const auto from = b * partsPerBin, to = from + partsPerBin - 1;
        pair_um.push_back(greatest(edges.outer_um, from, to)
                          + greatest(edges.inner_um, from - turnParts - platter, to - turnParts + platter));
    }
    std::vector<Demand> demands;
    for (std::ptrdiff_t first = 0; first < count; first += binsPerPlan) {
        Demand most{0, -endless};
        for (auto b = first; b < first + binsPerPlan; ++b) {
            const auto time_s = (static_cast<double>(b) + 0.5) * bin_s;
            const auto spacing_um = s.land_min_um + greatest(pair_um, b - preview, b + preview)
                                    + log.depth_um(time_s) + log.depth_um(time_s - s.turn_s());
            if (spacing_um > most.spacing_um)
                most = {static_cast<double>(b) + 0.5, spacing_um};
        }
        demands.push_back(most);
    }
    return demands;
}

/// Columns: positions at plan boundaries 0 … n, then how much the pitch changes at boundaries 1 … n−1.
class Program {
public:
    Program(const cut::CutSettings& settings, const std::vector<Demand>& demands, const Log& log)
        : s(settings), plans(static_cast<int>(demands.size())), rows(2 * plans) {
        model.setLogLevel(0);
        for (int k = 0; k < plans; ++k)
            rows.add({{k + 1, plansPerTurn}, {k, -plansPerTurn}}, s.pitch_min_um, s.pitch_max_um);
        const auto slew_um = s.pitch_slew_um_per_rev_s * s.turn_s() / plansPerTurn;
        for (int k = 1; k < plans; ++k) {
            rows.add(change(k), -slew_um, slew_um);
            auto up = change(k), down = change(k);
            up.emplace_back(plans + k, -1);
            down.emplace_back(plans + k, 1);
            rows.add(up, -endless, 0);
            rows.add(down, 0, endless);
        }
        for (const auto& demand : demands)
            spacing(demand, log);
        rows.loadInto(model);
        const auto start_um = log.position_um(0);
        for (int k = 0; k <= plans; ++k)
            model.setColumnBounds(k, k == 0 ? start_um : -endless, k == 0 ? start_um : endless);
        for (int k = 1; k < plans; ++k)
            model.setColumnBounds(plans + k, 0, endless);
    }

    /// The least end position; NaN: none.
    double leastEnd_um() {
        model.setObjectiveCoefficient(plans, 1);
        model.initialBarrierSolve();
        model.setObjectiveCoefficient(plans, 0);
        return model.isProvenOptimal() ? model.primalColumnSolution()[plans]
                                       : std::numeric_limits<double>::quiet_NaN();
    }

    /// The least travel of the pitch between the first and the last turn when the end is no further in than this.
    double leastTravel_um(double end_um) {
        model.setColumnBounds(plans, -endless, end_um);
        for (int k = plansPerTurn; k <= plans - plansPerTurn; ++k)
            model.setObjectiveCoefficient(plans + k, 1);
        model.initialBarrierSolve();
        return model.isProvenOptimal() ? model.objectiveValue() : std::numeric_limits<double>::quiet_NaN();
    }

private:
    static Terms change(int k) {
        return {{k + 1, plansPerTurn}, {k, -2.0 * plansPerTurn}, {k - 1, plansPerTurn}};
    }

    void spacing(const Demand& demand, const Log& log) {
        const auto at = demand.bin / binsPerPlan;
        const auto k = static_cast<int>(at);
        const auto part = at - k;
        const auto wanted_um = std::min(demand.spacing_um, s.pitch_max_um);
        Terms terms{{k, 1 - part}, {k + 1, part}};
        if (k >= plansPerTurn) {
            terms.emplace_back(k - plansPerTurn, part - 1);
            terms.emplace_back(k - plansPerTurn + 1, -part);
            return rows.add(terms, wanted_um, endless);
        }
        const auto before_s = (demand.bin / binsPerTurn - 1) * s.turn_s();
        rows.add(terms, wanted_um + log.position_um(before_s), endless);
    }

    const cut::CutSettings& s;
    int plans;
    ClpSimplex model;
    ProgramRows rows;
};

} // namespace

double travel_um(const std::vector<cut::CutFrame>& frames, double from_s, double until_s) {
    auto sum_um = 0.0;
    for (std::size_t i = 1; i < frames.size(); ++i)
        if (frames[i - 1].time_s >= from_s && frames[i].time_s <= until_s)
            sum_um += std::abs(frames[i].pitch_um - frames[i - 1].pitch_um);
    return sum_um;
}

SideMeasure measureSide(const std::vector<cut::CutFrame>& frames, const cut::CutSettings& settings,
                        const Recording& recording) {
    const Log log(frames, settings.depth_basic_um);
    const auto demands = demandsOf(settings, recording, log);
    const auto end_s = static_cast<double>(demands.size()) / plansPerTurn * settings.turn_s();
    SideMeasure result;
    result.turns = end_s / settings.turn_s();
    result.used_um = log.position_um(end_s) - log.position_um(0);
    result.travel_um = travel_um(frames, settings.turn_s(), end_s - settings.turn_s());
    Program program(settings, demands, log);
    const auto least_um = program.leastEnd_um();
    result.limit_um = least_um - log.position_um(0);
    result.leastTravel_um = program.leastTravel_um(std::max(log.position_um(end_s), least_um + 1e-3));
    result.solved = std::isfinite(result.limit_um) && std::isfinite(result.leastTravel_um);
    return result;
}

} // namespace headland::reference
