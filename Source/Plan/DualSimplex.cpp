// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plan/DualSimplex.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace headland::plan {

namespace {

constexpr double met = -1e-7;         ///< a row short by less than this is met
constexpr double usablePart = 1e-5;   ///< least coefficient to exchange on, as a part of the row's greatest
constexpr double costRounding = 1e-7; ///< reduced costs closer than this count as equal
constexpr double unbounded = -1e12;   ///< stands for minus infinity, which would spoil what it is added to

} // namespace

DualSimplex::DualSimplex(std::size_t rowCount, std::size_t variableCount, std::size_t limitCount)
    : rowsGiven(rowCount),
      rows(rowCount + limitCount),
      variables(variableCount),
      stride((variableCount + 3) / 4 * 4),
      coefficients(rows * stride, 0.0),
      least(rows, 0.0),
      price(rows, hard),
      value(rows, 0.0),
      cost(stride, 0.0),
      values(variables, 0.0),
      eitherPrice(variables + 2 * rows, hard),
      adds(variables),
      helpCosts(variables),
      limit(limitCount, {none, none, -std::numeric_limits<double>::infinity()}),
      isIn(limitCount, 0),
      basic(rows),
      nonbasic(variables) {}

/// The miss of the row whose surplus this is, and the other way round.
std::size_t DualSimplex::otherSide(std::size_t name) const noexcept {
    return name < variables + price.size() ? name + price.size() : name - price.size();
}

std::size_t DualSimplex::mostShort() const noexcept {
    auto worst = met;
    auto found = none;
    for (std::size_t i = 0; i < rows; ++i)
        if (value[i] < worst) {
            worst = value[i];
            found = i;
        }
    return found;
}

/// The variable whose cost rises least for what it adds to the row, entering as it is or by its other side; of equals, the one that
/// adds most.
DualSimplex::Entering DualSimplex::entering(std::size_t shortRow) noexcept {
    const auto* row = coefficients.data() + shortRow * stride;
    auto greatest = 0.0;
    for (std::size_t j = 0; j < variables; ++j) {
        adds[j] = std::abs(row[j]);
        greatest = std::max(greatest, adds[j]);
    }
    const auto usable = greatest * usablePart;
    auto leastRatio = std::numeric_limits<double>::infinity();
    for (std::size_t j = 0; j < variables; ++j) {
        if (!(adds[j] > usable))
            continue;
        helpCosts[j] = std::max(0.0, row[j] > 0 ? cost[j] : priceOfEither(nonbasic[j]) - cost[j]);
        leastRatio = std::min(leastRatio, (helpCosts[j] + costRounding) / adds[j]);
    }
    Entering found{none, leastRatio};
    for (std::size_t j = 0; j < variables; ++j)
        if (adds[j] > usable && helpCosts[j] <= leastRatio * adds[j]
            && (found.column == none || adds[j] > adds[found.column]))
            found.column = j;
    return found;
}

/// A row dearer to meet than to miss, or not missed after all: its surplus and its miss change places.
void DualSimplex::turnRow(std::size_t r) noexcept {
    auto* row = coefficients.data() + r * stride;
    const auto each = priceOfEither(basic[r]);
    for (std::size_t k = 0; k < stride; ++k) {
        cost[k] -= each * row[k];
        row[k] = -row[k];
    }
    value[r] = -value[r];
    basic[r] = otherSide(basic[r]);
}

/// The other side of a nonbasic surplus or miss takes its place.
void DualSimplex::turnColumn(std::size_t j) noexcept {
    for (std::size_t i = 0; i < rows; ++i)
        coefficients[i * stride + j] = -coefficients[i * stride + j];
    cost[j] = priceOfEither(nonbasic[j]) - cost[j];
    nonbasic[j] = otherSide(nonbasic[j]);
}

void DualSimplex::exchange(std::size_t r, std::size_t j) noexcept {
    auto* pivotRow = coefficients.data() + r * stride;
    const auto inverse = 1 / pivotRow[j];
    for (std::size_t k = 0; k < stride; ++k)
        pivotRow[k] *= -inverse;
    pivotRow[j] = inverse;
    value[r] *= -inverse;
    const auto substitute = [&](double* row, double& constant) {
        const auto factor = row[j];
        if (factor == 0)
            return;
        row[j] = 0;
        for (std::size_t k = 0; k < stride; ++k)
            row[k] += factor * pivotRow[k];
        constant += factor * value[r];
    };
    for (std::size_t i = 0; i < rows; ++i)
        if (i != r)
            substitute(coefficients.data() + i * stride, value[i]);
    auto unused = 0.0;
    substitute(cost.data(), unused);
    std::swap(basic[r], nonbasic[j]);
}

void DualSimplex::readSolution() noexcept {
    std::fill(values.begin(), values.end(), 0.0);
    for (std::size_t i = 0; i < rows; ++i)
        if (basic[i] < variables)
            values[basic[i]] = value[i];
}

bool DualSimplex::isBroken(const Limit& l) const noexcept {
    const auto at = [this](std::size_t name) { return name == none ? 0.0 : values[name]; };
    return at(l.more) - at(l.less) - l.least < met;
}

/// Makes rows of the limits that the solution breaks; whether there are any.
bool DualSimplex::bringInBroken() noexcept {
    const auto before = rows;
    for (std::size_t i = 0; i < limit.size(); ++i)
        if (isIn[i] == 0 && isBroken(limit[i])) {
            isIn[i] = 1;
            bringIn(limit[i]);
        }
    return rows > before;
}

void DualSimplex::bringIn(const Limit& l) noexcept {
    const auto r = rows++;
    std::fill_n(coefficients.begin() + static_cast<std::ptrdiff_t>(r * stride), stride, 0.0);
    value[r] = -l.least;
    basic[r] = variables + r;
    addVariable(r, l.more, 1);
    addVariable(r, l.less, -1);
}

/// Adds a variable to a row, as the dictionary has it.
void DualSimplex::addVariable(std::size_t r, std::size_t name, double factor) noexcept {
    if (name == none)
        return;
    auto* row = coefficients.data() + r * stride;
    for (std::size_t j = 0; j < variables; ++j)
        if (nonbasic[j] == name)
            row[j] += factor;
    for (std::size_t i = 0; i < r; ++i)
        if (basic[i] == name) {
            const auto* of = coefficients.data() + i * stride;
            for (std::size_t k = 0; k < stride; ++k)
                row[k] += factor * of[k];
            value[r] += factor * value[i];
        }
}

void DualSimplex::begin() noexcept {
    rows = rowsGiven;
    std::fill(isIn.begin(), isIn.end(), char{0});
    std::iota(nonbasic.begin(), nonbasic.end(), std::size_t{0});
    std::iota(basic.begin(), basic.end(), variables);
    for (std::size_t i = 0; i < rows; ++i)
        value[i] = -std::max(least[i], unbounded);
    for (std::size_t i = 0; i < price.size(); ++i)
        eitherPrice[variables + i] = eitherPrice[variables + price.size() + i] = price[i];
    progress = Progress::going;
}

bool DualSimplex::proceed(int mostExchanges) noexcept {
    for (int i = 0; i <= mostExchanges && progress == Progress::going; ++i) {
        const auto r = mostShort();
        if (r == none) {
            readSolution();
            if (!bringInBroken())
                progress = Progress::solved;
            continue;
        }
        const auto best = entering(r);
        if (best.ratio >= priceOfEither(basic[r])) {
            if (priceOfEither(basic[r]) == hard)
                progress = Progress::impossible;
            else
                turnRow(r);
            continue;
        }
        if (coefficients[r * stride + best.column] < 0)
            turnColumn(best.column);
        exchange(r, best.column);
    }
    return progress != Progress::going;
}

} // namespace headland::plan
