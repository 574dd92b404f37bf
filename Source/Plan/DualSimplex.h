// SPDX-License-Identifier: GPL-3.0-or-later
// A linear program small and of one kind: minimise c·y subject to A·y ≥ b, y ≥ 0, with c ≥ 0, few variables and many rows,
// of which some may be missed at a price for each unit, and limits on variables and their differences. The dual simplex method on a dense dictionary: y = 0 is the best
// point there is and rows are brought in one after another, each by one exchange. A row's surplus and its miss are two
// sides of one quantity, only one of which is in the dictionary (boxed dual variables: Koberstein, "The Dual Simplex
// Method, Techniques for a fast and stable implementation", 2005; from memory). All memory is taken at construction and
// the number of exchanges is bounded: this runs on the audio thread, which is why no library's solver does it.
#pragma once

#include <cstddef>
#include <limits>
#include <span>
#include <vector>

namespace headland::plan {

class DualSimplex {
public:
    static constexpr auto hard = std::numeric_limits<double>::infinity(); ///< price of a row that must be met

    static constexpr auto none = std::numeric_limits<std::size_t>::max();

    /// y[more] − y[less] ≥ least; `none` leaves a variable out. Most limits are never reached: one is a row only once the
    /// solution without it breaks it.
    struct Limit {
        std::size_t more, less;
        double least;
    };

    DualSimplex() = default;
    DualSimplex(std::size_t rows, std::size_t variables, std::size_t limits = 0);

    /// Coefficients of a row, to be written before solve(), which consumes them.
    std::span<double> row(std::size_t i) noexcept { return {coefficients.data() + i * stride, variables}; }
    /// Right-hand side b of a row; minus infinity leaves the row out.
    double& leastOf(std::size_t i) noexcept { return least[i]; }
    /// Price of missing a row by one, > 0; hard at first, kept from one solve() to the next.
    double& priceOf(std::size_t i) noexcept { return price[i]; }
    /// Cost of each variable, ≥ 0; consumed by solve().
    std::span<double> costs() noexcept { return {cost.data(), variables}; }

    /// To be written before solve(), and kept; at first they ask for nothing.
    std::span<Limit> limits() noexcept { return limit; }

    /// Begins to solve what has been written.
    void begin() noexcept;
    /// Goes on with at most so many exchanges; returns whether it is over, solved or not.
    bool proceed(int mostExchanges) noexcept;
    /// It is over and there is a solution; there is none when the hard rows cannot all be met.
    bool isSolved() const noexcept { return progress == Progress::solved; }

    /// All at once. Returns false, and no solution, also when so many exchanges do not suffice.
    bool solve(int mostExchanges) noexcept {
        begin();
        proceed(mostExchanges);
        return isSolved();
    }

    /// The solution.
    std::span<const double> solution() const noexcept { return values; }

private:
    enum class Progress { going, solved, impossible };

    std::size_t mostShort() const noexcept;
    struct Entering {
        std::size_t column;
        double ratio; ///< cost for each unit added to the row; infinity when no column adds anything
    };
    Entering entering(std::size_t shortRow) noexcept;
    double priceOfEither(std::size_t name) const noexcept { return eitherPrice[name]; }
    std::size_t otherSide(std::size_t name) const noexcept;
    void turnRow(std::size_t r) noexcept;
    void turnColumn(std::size_t j) noexcept;
    void exchange(std::size_t r, std::size_t j) noexcept;
    void readSolution() noexcept;
    bool isBroken(const Limit& limit) const noexcept;
    bool bringInBroken() noexcept;
    void bringIn(const Limit& limit) noexcept;
    void addVariable(std::size_t r, std::size_t name, double factor) noexcept;

    Progress progress = Progress::impossible;
    std::size_t rowsGiven = 0, rows = 0; ///< without and with the limits that have been brought in
    std::size_t variables = 0, stride = 0;
    std::vector<double> coefficients, least, price, value, cost, values;
    std::vector<double>
        eitherPrice; ///< by name: what a surplus and the miss of the same row cost together; hard for a variable
    std::vector<double> adds, helpCosts; ///< scratch of entering()
    std::vector<Limit> limit;
    std::vector<char> isIn;
    std::vector<std::size_t> basic,
        nonbasic; ///< names: y are 0 … variables-1, then each row's surplus, then each row's miss
};

} // namespace headland::plan
