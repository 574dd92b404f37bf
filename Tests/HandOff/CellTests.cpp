// SPDX-License-Identifier: GPL-3.0-or-later
// A cell between threads: no count is lost, and who sees a count sees what was written before it. What is written here
// is no atomic, so that the thread sanitizer looks.
#include "HandOff/Cell.h"

#include <catch2/catch.hpp>
#include <cstdint>
#include <latch>
#include <thread>
#include <vector>

using headland::handoff::Cell;

TEST_CASE("A cell holds what was set last, and counts", "[handoff]") {
    CHECK(Cell<int>().get() == 0);
    Cell<double> cell(2.5);
    CHECK(cell.get() == 2.5);
    cell.set(-1e300);
    CHECK(cell.get() == -1e300);
    Cell<std::uint32_t> counter(7);
    counter.count();
    CHECK(counter.seen() == 8);
}

TEST_CASE("Of two million counts by two threads none is lost", "[handoff]") {
    constexpr std::uint32_t each = 1'000'000;
    Cell<std::uint32_t> counter;
    std::latch start(2); // a thread takes longer to begin than the counts
    const auto countUp = [&] {
        start.arrive_and_wait();
        for (std::uint32_t i = 0; i < each; ++i)
            counter.count();
    };
    std::jthread other(countUp);
    countUp();
    other.join();
    CHECK(counter.seen() == 2 * each);
}

TEST_CASE("Who sees a count sees what was written before it", "[handoff]") {
    constexpr std::uint32_t items = 1'000'000;
    std::vector<std::uint32_t> written(items, 0);
    Cell<std::uint32_t> counter;
    std::jthread writer([&] {
        for (std::uint32_t i = 0; i < items; ++i) {
            written[i] = i + 1;
            counter.count();
        }
    });
    std::uint32_t wrong = 0;
    for (std::uint32_t next = 0; next < items;)
        for (const auto seen = counter.seen(); next < seen; ++next)
            wrong += written[next] == next + 1 ? 0 : 1;
    CHECK(wrong == 0);
}
