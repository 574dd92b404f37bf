// SPDX-License-Identifier: GPL-3.0-or-later
// Our small linear-program solver against COIN-OR Clp, on random programs of its kind and on the limits of what it promises.
#include "Plan/DualSimplex.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>
#include <ClpSimplex.hpp>
#include <CoinPackedMatrix.hpp>
#include <limits>
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

DualSimplex load(const Program& p) {
    DualSimplex solver(p.rows, p.variables);
    for (std::size_t i = 0; i < p.rows; ++i) {
        std::copy(p.a[i].begin(), p.a[i].end(), solver.row(i).begin());
        solver.leastOf(i) = p.b[i];
        solver.priceOf(i) = p.price[i];
    }
    std::copy(p.c.begin(), p.c.end(), solver.costs().begin());
    return solver;
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
        auto cost = 0.0;
        for (std::size_t j = 0; j < p.variables; ++j) {
            REQUIRE(y[j] >= -1e-6);
            cost += p.c[j] * y[j];
        }
        for (std::size_t i = 0; i < p.rows; ++i) {
            auto sum = 0.0;
            for (std::size_t j = 0; j < p.variables; ++j)
                sum += p.a[i][j] * y[j];
            const auto miss = p.b[i] - sum;
            if (p.price[i] == DualSimplex::hard)
                REQUIRE(miss <= 1e-5);
            else
                cost += p.price[i] * std::max(0.0, miss);
            missedRows += miss > 1e-5;
        }
        REQUIRE(cost == Approx(clpOptimum(p)).epsilon(1e-6).margin(1e-5));
    }
    CHECK(missedRows > 300); // it was worth the test
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
