// SPDX-License-Identifier: GPL-3.0-or-later
// The rows of a linear program as Clp takes them, written down term by term.
#pragma once

#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <utility>
#include <vector>

namespace headland::reference {

/// Column and factor.
using Terms = std::vector<std::pair<int, double>>;

class ProgramRows {
public:
    explicit ProgramRows(int columns) { rows.setDimensions(0, columns); }

    /// One more: low ≤ Σ factor · column ≤ high.
    void add(const Terms& terms, double low, double high) {
        std::vector<int> index;
        std::vector<double> value;
        for (const auto& [column, factor] : terms) {
            index.push_back(column);
            value.push_back(factor);
        }
        rows.appendRow(static_cast<int>(index.size()), index.data(), value.data());
        lower.push_back(low);
        upper.push_back(high);
    }

    void loadInto(ClpSimplex& model) const {
        model.loadProblem(rows, nullptr, nullptr, nullptr, lower.data(), upper.data());
    }

private:
    CoinPackedMatrix rows{false, 0, 0};
    std::vector<double> lower, upper;
};

} // namespace headland::reference
