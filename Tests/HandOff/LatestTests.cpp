// SPDX-License-Identifier: GPL-3.0-or-later
// The latest value between two threads: what is new alone, then a million values as fast as both threads can.
#include "HandOff/Latest.h"
#include "Tests/HandOff/Payload.h"

#include <catch2/catch.hpp>
#include <thread>

using headland::handoff::Latest;
using headland::test::isWhole;
using headland::test::Payload;
using headland::test::payload;

TEST_CASE("Each published value is new once, and only the latest is there", "[handoff]") {
    Latest<int> latest;
    auto got = -7;
    CHECK_FALSE(latest.read(got));
    CHECK(got == -7);
    for (auto published = 1; published <= 20; ++published) { // one to four values between two readings
        for (auto more = 0; more < published % 4; ++more)
            latest.publish(-1);
        latest.publish(published);
        REQUIRE(latest.read(got));
        CHECK(got == published);
        CHECK_FALSE(latest.read(got));
        CHECK(got == published);
    }
}

TEST_CASE("Of a million values the reader sees whole ones, never an earlier one, and the last", "[handoff]") {
    constexpr std::uint64_t items = 1'000'000;
    constexpr std::uint64_t meeting = 1000; // every so many the writer waits until it is read
    Latest<Payload> latest;
    std::atomic<std::uint64_t> seen{0}; // relaxed: orders nothing that the thread sanitizer looks for
    std::jthread writer([&] {
        for (std::uint64_t i = 1; i <= items; ++i) {
            latest.publish(payload(i));
            while (i % meeting == 0 && seen.load(std::memory_order_relaxed) != i) {
            }
        }
    });
    std::uint64_t reads = 0, torn = 0, notNewer = 0, last = 0;
    for (Payload got; last != items;)
        if (latest.read(got)) {
            ++reads;
            torn += isWhole(got) ? 0 : 1;
            notNewer += got.number > last ? 0 : 1;
            last = got.number;
            seen.store(last, std::memory_order_relaxed);
        }
    writer.join();
    CHECK(torn == 0);
    CHECK(notNewer == 0);
    CHECK(reads >= items / meeting); // both threads were at it
    Payload none;
    CHECK_FALSE(latest.read(none));
}
