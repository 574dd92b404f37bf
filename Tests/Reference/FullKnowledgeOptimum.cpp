// SPDX-License-Identifier: GPL-3.0-or-later
#include "Tests/Reference/FullKnowledgeOptimum.h"

#include "Tests/Reference/ProgramRows.h"

#include <algorithm>
#include <ClpSimplex.hpp>
#include <cmath>
#include <limits>

namespace headland::reference {

namespace {

/// Columns: for plan boundary k = 0 … n: v_k (command), q_k (axis), x_k (position).
struct Columns {
    int v(int k) const { return 3 * k; }
    int q(int k) const { return 3 * k + 1; }
    int x(int k) const { return 3 * k + 2; }
};

/// What is minimised: travel with every demand met, or the greatest miss.
enum class Aim { travel, miss };

class Builder {
public:
    Builder(const OptimumProblem& p, Aim a)
        : problem(p),
          aim(a),
          plans(static_cast<int>((p.demand_um.size() + static_cast<std::size_t>(p.coarse) - 1)
                                 / static_cast<std::size_t>(p.coarse))),
          rows(3 * (plans + 1) + 1) {
        model.setLogLevel(0);
        for (int k = 0; k < plans; ++k)
            motion(k);
        for (const auto b : bindingBoundaries())
            spacing(b);
        rows.loadInto(model);
        bounds();
        model.setObjectiveCoefficient(aim == Aim::travel ? columns.x(plans) : miss(), 1);
    }

    Optimum solve() {
        // Presolve would spoil the chains of positions; the plain primal simplex is quickest on them.
        model.primal();
        Optimum result{model.isProvenOptimal(), model.objectiveValue(), {}};
        for (int k = 0; k <= plans; ++k)
            result.command_um.push_back(model.primalColumnSolution()[columns.v(k)]);
        return result;
    }

private:
    int miss() const { return 3 * (plans + 1); } // a column of its own

    void bounds() {
        constexpr auto free = std::numeric_limits<double>::max();
        for (int k = 0; k <= plans; ++k) {
            model.setColumnBounds(columns.v(k), problem.least_um, problem.greatest_um);
            model.setColumnBounds(columns.q(k), -free, free);
            model.setColumnBounds(columns.x(k), -free, free);
        }
        model.setColumnBounds(columns.v(0), problem.command_um, problem.command_um);
        model.setColumnBounds(columns.q(0), problem.axis_um, problem.axis_um);
        model.setColumnBounds(columns.x(0), 0, 0);
        model.setColumnBounds(miss(), 0, aim == Aim::miss ? free : 0);
    }

    /// Lag and travel of one plan sector, exact for a straight command; and the slew.
    void motion(int k) {
        const auto d = problem.turn_s / problem.sectorsPerTurn * problem.coarse;
        const auto lag = problem.lag_s;
        const auto e = lag > 0 ? std::exp(-d / lag) : 0.0;
        const auto kappa = lag / d * (1 - e);
        const auto T = problem.turn_s;
        rows.add({{columns.q(k + 1), 1},
                  {columns.v(k + 1), kappa - 1},
                  {columns.v(k), e - kappa},
                  {columns.q(k), -e}},
                 0, 0);
        rows.add({{columns.x(k + 1), 1},
                  {columns.x(k), -1},
                  {columns.v(k), -d / 2 / T},
                  {columns.v(k + 1), -d / 2 / T},
                  {columns.q(k + 1), lag / T},
                  {columns.q(k), -lag / T}},
                 0, 0);
        rows.add({{columns.v(k + 1), 1}, {columns.v(k), -1}}, -problem.slew_um_s * d, problem.slew_um_s * d);
    }

    /// Position at fine boundary b (≥ 0), straight between plan boundaries, as terms.
    void addPosition(Terms& terms, int b, double sign) const {
        const auto k = b / problem.coarse;
        const auto part = static_cast<double>(b % problem.coarse) / problem.coarse;
        terms.emplace_back(columns.x(k), sign * (1 - part));
        if (part > 0)
            terms.emplace_back(columns.x(k + 1), sign * part);
    }

    /// Least position at fine boundary b, against that one turn before where that lies ahead.
    double least_um(int b) const {
        const auto before = b - problem.sectorsPerTurn;
        return problem.demand_um[static_cast<std::size_t>(b) - 1]
               + (before > 0 ? 0.0
                             : problem.history_um[static_cast<std::size_t>(before + problem.sectorsPerTurn)]);
    }

    /// Within a plan sector both positions are straight, so only the corners of the demand's upper hull can bind.
    std::vector<int> bindingBoundaries() const {
        const auto count = static_cast<int>(problem.demand_um.size());
        std::vector<int> binding;
        for (int k = 0; k < plans; ++k) {
            std::vector<int> hull;
            for (int b = std::max(1, k * problem.coarse); b <= std::min(count, (k + 1) * problem.coarse);
                 ++b) {
                if (!std::isfinite(least_um(b)))
                    continue;
                while (hull.size() >= 2 && isBelowLine(hull[hull.size() - 2], hull.back(), b))
                    hull.pop_back();
                hull.push_back(b);
            }
            binding.insert(binding.end(), hull.begin(), hull.end());
        }
        binding.erase(std::unique(binding.begin(), binding.end()),
                      binding.end()); // a boundary of two plan sectors
        return binding;
    }

    bool isBelowLine(int a, int middle, int b) const {
        const auto line_um = least_um(a) + (least_um(b) - least_um(a)) * (middle - a) / (b - a);
        return least_um(middle) <= line_um;
    }

    void spacing(int b) {
        Terms terms;
        addPosition(terms, b, 1);
        const auto before = b - problem.sectorsPerTurn;
        if (before > 0)
            addPosition(terms, before, -1);
        terms.emplace_back(miss(), 1);
        rows.add(terms, least_um(b), std::numeric_limits<double>::max());
    }

    OptimumProblem problem;
    Aim aim;
    int plans;
    Columns columns;
    ClpSimplex model;
    ProgramRows rows;
};

} // namespace

Optimum solveOptimum(const OptimumProblem& problem) {
    return Builder(problem, Aim::travel).solve();
}

double leastMiss_um(const OptimumProblem& problem) {
    const auto result = Builder(problem, Aim::miss).solve();
    return result.solved ? result.used_um : std::numeric_limits<double>::quiet_NaN();
}

} // namespace headland::reference
