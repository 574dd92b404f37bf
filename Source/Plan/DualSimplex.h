// SPDX-License-Identifier: GPL-3.0-or-later
// A linear program small and of one kind: minimise c·y subject to A·y ≥ b, y ≥ 0, with c ≥ 0, few variables and many rows.
// The dual simplex method on a dense dictionary: y = 0 is the best point there is and rows are brought in one after
// another, each by one exchange. All memory is taken at construction and the number of exchanges is bounded: this runs
// on the audio thread, which is why no library's solver does it.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace headland::plan {

class DualSimplex {
public:
    DualSimplex() = default;
    DualSimplex(std::size_t rows, std::size_t variables);

    /// Coefficients of a row, to be written before solve(), which consumes them.
    std::span<double> row(std::size_t i) noexcept { return {coefficients.data() + i * stride, variables}; }
    /// Right-hand side b of a row; minus infinity leaves the row out.
    double& leastOf(std::size_t i) noexcept { return least[i]; }
    /// Cost of each variable, ≥ 0; consumed by solve().
    std::span<double> costs() noexcept { return {cost.data(), variables}; }

    /// Solves with at most `mostExchanges` exchanges. Returns false, and no solution, when they do not suffice or when
    /// the rows cannot all be met.
    bool solve(int mostExchanges) noexcept;

    /// The solution.
    std::span<const double> solution() const noexcept { return values; }

private:
    std::size_t mostShort() const noexcept;
    std::size_t entering(std::size_t shortRow) const noexcept;
    void exchange(std::size_t r, std::size_t j) noexcept;
    void readSolution() noexcept;

    std::size_t rows = 0, variables = 0, stride = 0;
    std::vector<double> coefficients, least, value, cost, values;
    std::vector<std::size_t> basic, nonbasic; ///< variables: y are 0 … variables-1, slacks follow
};

} // namespace headland::plan
