// SPDX-License-Identifier: GPL-3.0-or-later
// Packed frames give back what a book gives back: every figure to its last decimal, up to the limits of its number.

#include "Log/FrameList.h"

#include "Tests/Log/Cuts.h"
#include "Tests/Support/SameFrames.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::test;

namespace {

/// As a book keeps a figure.
double asLogged(double figure, const log::FrameColumn& column) {
    if (!std::isfinite(figure))
        return column.absent;
    if (!log::hasPlaces(figure, column.decimals))
        return figure;
    return static_cast<double>(log::places(figure, column.decimals)) / log::powerOfTen(column.decimals);
}

int differences(const log::FrameList& list, const std::vector<cut::CutFrame>& told) {
    auto wrong = 0;
    for (std::size_t i = 0; i < told.size(); ++i) {
        const auto frame = list[i];
        wrong += frame.state != told[i].state || frame.flags != told[i].flags
                 || frame.estimate.grade != told[i].estimate.grade;
        for (const auto& column : log::frameColumns) {
            const auto expected = asLogged(column.get(told[i]), column), found = column.get(frame);
            wrong += found == expected || (std::isnan(found) && std::isnan(expected)) ? 0 : 1;
        }
    }
    return wrong;
}

} // namespace

TEST_CASE("Packed frames are what a book gives back, to the last decimal") {
    const auto told = madeUpFrames(10'000); // more than two chunks
    const log::FrameList list(told);
    REQUIRE(list.size() == told.size());
    CHECK(differences(list, told) == 0);
    CHECK(list.time_s(5000) == list[5000].time_s);
    CHECK(list.turn(5000) == list[5000].turn);
    CHECK(list.radius_mm(5000) == list[5000].radius_mm);
    CHECK(list.state(5000) == told[5000].state);
    std::size_t counted = 0;
    for (const auto& frame : list)
        counted += frame.time_s == list.time_s(counted) ? 1 : 0;
    CHECK(counted == told.size());
    CHECK(list.firstNot([&](std::size_t i) { return list.time_s(i) < list.time_s(4321); }) == 4321);
    CHECK(list.firstNot([](std::size_t) { return true; }) == list.size());
    CHECK(log::FrameList().firstNot([](std::size_t) { return true; }) == 0);
}

TEST_CASE("Packed frames keep figures beyond 32 and 64 bits, also of lists that are joined") {
    auto told = madeUpFrames(5000);
    const auto first = told;
    for (const auto figure :
         {9e14, -9e14, 1e300, -1e300, 214748.3647, 214748.3648, -214748.3648, -214748.3647, 1e11,
          static_cast<double>(std::numeric_limits<std::int32_t>::min()) / 1e3}) {
        auto frame = told.front();
        for (const auto& column : log::frameColumns)
            column.of(frame) = figure;
        told.push_back(frame);
    }
    const log::FrameList list(told);
    CHECK(differences(list, told) == 0);
    log::FrameList joined(first);
    joined.append(log::FrameList(told));
    auto both = first;
    both.insert(both.end(), told.begin(), told.end());
    REQUIRE(joined.size() == both.size());
    CHECK(differences(joined, both) == 0);
}
