// SPDX-License-Identifier: GPL-3.0-or-later
// Our small linear-program solver against COIN-OR Clp, on random programs of its kind and on the limits of what it promises.
#include "Plan/DualSimplex.h"
#include "Tests/Support/Random.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <limits>
#include <numeric>
#include <span>
#include <vector>

using headland::plan::DualSimplex;

namespace {

struct Program {
    std::size_t rows, variables;
    std::vector<std::vector<double>> a;
    std::vector<double> b, c;
    std::vector<double> price; ///< of missing a row by one, or hard
};

/// Always solvable: the last variable, at a price, lifts every row; half of the rows may also be missed by themselves.
Program randomProgram(unsigned seed) {
    headland::test::Random random(seed);
    Program p;
    p.rows = static_cast<std::size_t>(random.between(5, 90));
    p.variables = static_cast<std::size_t>(random.between(2, 20));
    for (std::size_t i = 0; i < p.rows; ++i) {
        std::vector<double> row;
        for (std::size_t j = 0; j + 1 < p.variables; ++j)
            row.push_back(random.unit() < 0.3 ? 0 : random.between(-1, 1));
        row.push_back(1);
        p.a.push_back(row);
        p.b.push_back(random.between(-100, 60));
        p.price.push_back(random.unit() < 0.5 ? DualSimplex::hard : random.between(0.05, 8));
    }
    for (std::size_t j = 0; j + 1 < p.variables; ++j)
        p.c.push_back(random.unit());
    p.c.push_back(50);
    return p;
}

/// Each miss is a column of its own there.
double clpOptimum(const Program& p) {
    auto costs = p.c;
    CoinPackedMatrix matrix{true, 0, 0}; // by columns
    matrix.setDimensions(static_cast<int>(p.rows), 0);
    std::vector<int> index(p.rows);
    for (std::size_t i = 0; i < p.rows; ++i)
        index[i] = static_cast<int>(i);
    for (std::size_t j = 0; j < p.variables; ++j) {
        std::vector<double> column;
        for (const auto& row : p.a)
            column.push_back(row[j]);
        matrix.appendCol(static_cast<int>(p.rows), index.data(), column.data());
    }
    for (std::size_t i = 0; i < p.rows; ++i)
        if (p.price[i] != DualSimplex::hard) {
            const auto one = 1.0;
            matrix.appendCol(1, &index[i], &one);
            costs.push_back(p.price[i]);
        }
    ClpSimplex model;
    model.setLogLevel(0);
    model.loadProblem(matrix, nullptr, nullptr, costs.data(), p.b.data(), nullptr);
    model.dual();
    REQUIRE(model.isProvenOptimal());
    return model.objectiveValue();
}

/// Its first rows.
void load(const Program& p, DualSimplex& solver, std::size_t rows) {
    for (std::size_t i = 0; i < rows; ++i) {
        std::copy(p.a[i].begin(), p.a[i].end(), solver.row(i).begin());
        solver.leastOf(i) = p.b[i];
        solver.priceOf(i) = p.price[i];
    }
    std::copy(p.c.begin(), p.c.end(), solver.costs().begin());
}

DualSimplex load(const Program& p) {
    DualSimplex solver(p.rows, p.variables);
    load(p, solver, p.rows);
    return solver;
}

/// What a row has over what it asks for; negative: it is missed.
double surplus(const Program& p, std::span<const double> y, std::size_t row) {
    return std::inner_product(y.begin(), y.end(), p.a[row].begin(), -p.b[row]);
}

/// Of a point, with what the rows cost that it misses.
double costOf(const Program& p, std::span<const double> y) {
    auto cost = std::inner_product(y.begin(), y.end(), p.c.begin(), 0.0);
    for (std::size_t i = 0; i < p.rows; ++i)
        if (p.price[i] != DualSimplex::hard)
            cost += p.price[i] * std::max(0.0, -surplus(p, y, i));
    return cost;
}

} // namespace

TEST_CASE("The small solver finds Clp's optimum, at a point that meets every row", "[reference]") {
    auto missedRows = 0;
    for (unsigned seed = 1; seed <= 300; ++seed) {
        const auto p = randomProgram(seed);
        auto solver = load(p);
        INFO("seed " << seed << ", " << p.rows << " rows, " << p.variables << " variables");
        REQUIRE(solver.solve(5000));
        const auto y = solver.solution();
        REQUIRE(std::all_of(y.begin(), y.end(), [](double each) { return each >= -1e-6; }));
        for (std::size_t i = 0; i < p.rows; ++i) {
            const auto miss = -surplus(p, y, i);
            if (p.price[i] == DualSimplex::hard)
                REQUIRE(miss <= 1e-5);
            missedRows += miss > 1e-5;
        }
        REQUIRE(costOf(p, y) == Approx(clpOptimum(p)).epsilon(1e-6).margin(1e-5));
    }
    CHECK(missedRows > 300); // it was worth the test
}

TEST_CASE("Limits are heeded as the rows are that say the same", "[reference]") {
    auto reached = 0;
    for (unsigned seed = 1; seed <= 300; ++seed) {
        auto p = randomProgram(seed);
        headland::test::Random random(seed);
        std::vector<DualSimplex::Limit> limits;
        for (std::size_t j = 0; j + 1 < p.variables; ++j) {
            limits.push_back({DualSimplex::none, j, -random.between(1, 40)});
            if (j > 0)
                limits.push_back({j, j - 1, -random.between(0, 20)});
        }
        DualSimplex solver(p.rows, p.variables, limits.size());
        std::copy(limits.begin(), limits.end(), solver.limits().begin());
        for (const auto& l : limits) {
            std::vector<double> row(p.variables, 0.0);
            row[l.less] = -1;
            if (l.more != DualSimplex::none)
                row[l.more] = 1;
            p.a.push_back(row);
            p.b.push_back(l.least);
            p.price.push_back(DualSimplex::hard);
        }
        const auto rowsGiven = p.rows;
        p.rows = p.a.size();
        INFO("seed " << seed);
        for (int round = 0; round < 2; ++round) { // a limit of the last solution is none of the next one
            load(p, solver, rowsGiven);
            REQUIRE(solver.solve(5000));
            CHECK(costOf(p, solver.solution()) == Approx(clpOptimum(p)).epsilon(1e-6).margin(1e-5));
            for (std::size_t i = rowsGiven; i < p.rows; ++i) {
                CHECK(surplus(p, solver.solution(), i) >= -1e-5);
                reached += surplus(p, solver.solution(), i) < 1e-5;
            }
        }
    }
    CHECK(reached > 600); // it was worth the test
}

TEST_CASE("Rows that contradict each other, and too few exchanges, are said and give no solution",
          "[reference]") {
    Program p{2, 1, {{1}, {-1}}, {5, -3}, {1}, {DualSimplex::hard, DualSimplex::hard}}; // y >= 5 and y <= 3
    auto solver = load(p);
    REQUIRE_FALSE(solver.solve(100));

    p.price = {4, 0.5}; // the second is cheaper to miss
    auto missing = load(p);
    REQUIRE(missing.solve(100));
    REQUIRE(missing.solution()[0] == Approx(5));

    p.price = {0.25, DualSimplex::hard}; // the first is not worth its cost of 1
    auto notWorth = load(p);
    REQUIRE(notWorth.solve(100));
    REQUIRE(notWorth.solution()[0] == Approx(0).margin(1e-9));

    auto full = randomProgram(7);
    REQUIRE(load(full).solve(5000));
    REQUIRE_FALSE(load(full).solve(0));
}

TEST_CASE("A row of minus infinity asks for nothing", "[reference]") {
    Program p{2,          1,
              {{1}, {1}}, {2, -std::numeric_limits<double>::infinity()},
              {1},        {DualSimplex::hard, DualSimplex::hard}};
    auto solver = load(p);
    REQUIRE(solver.solve(10));
    REQUIRE(solver.solution()[0] == Approx(2));
}
