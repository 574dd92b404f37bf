// SPDX-License-Identifier: GPL-3.0-or-later
// The sector clock against whole numbers worked out by hand, and for drift.
#include "Disc/SectorClock.h"

#include <catch2/catch.hpp>

using headland::disc::SectorClock;

namespace {

constexpr double rates_hz[] = {44100, 48000, 88200, 96000, 176400, 192000};

} // namespace

TEST_CASE("a turn is a whole number of samples at the usual speeds and rates", "[clock]") {
    // 33⅓ rpm: 9/5 s; 45 rpm: 4/3 s. All the rates divide by 5 and by 3.
    for (const auto rate_hz : rates_hz)
        for (const auto sectors : {64, 256, 800}) {
            INFO(rate_hz << " Hz, " << sectors << " sectors");
            const SectorClock slow(rate_hz, 60.0 / (100.0 / 3.0), sectors),
                fast(rate_hz, 60.0 / 45.0, sectors);
            const auto rate = static_cast<std::int64_t>(rate_hz);
            CHECK(slow.turnSamples() == static_cast<double>(rate / 5 * 9));
            CHECK(fast.turnSamples() == static_cast<double>(rate / 3 * 4));
            CHECK(slow.sectorsPerTurn() == sectors);
            for (const std::int64_t turn : {1, 2, 1000, 10000}) {
                CHECK(slow.boundary(turn * sectors) == turn * (rate / 5 * 9));
                CHECK(fast.boundary(turn * sectors) == turn * (rate / 3 * 4));
            }
        }
}

TEST_CASE("sector boundaries follow each other and no sector is empty", "[clock]") {
    const auto rpm = GENERATE(100.0 / 3.0, 45.0, 78.0, 90.0);
    const auto sectors = GENERATE(64, 256, 799, 800);
    INFO(rpm << " rpm, " << sectors << " sectors");
    const SectorClock clock(44100, 60 / rpm, sectors);
    CHECK(clock.boundary(0) == 0);
    const auto length = clock.turnSamples() / sectors;
    auto wrong = 0;
    for (std::int64_t k = 0; k < 20 * sectors; ++k) {
        const auto size = clock.boundary(k + 1) - clock.boundary(k);
        wrong += size < std::floor(length) || size > std::ceil(length);
        const auto early = static_cast<double>(clock.boundary(k)) - clock.exactBoundary(k);
        wrong += early < -1e-5 || early >= 1; // the first sample at or after it
    }
    REQUIRE(length > 1);
    CHECK(wrong == 0);
}

TEST_CASE("78 rpm does not drift in 10,000 turns", "[clock]") {
    // 44100·60/78 = 33923 1/13 samples: 13 turns are 441000 exactly.
    constexpr int sectors = 256;
    const SectorClock clock(44100, 60.0 / 78.0, sectors);
    for (const std::int64_t rounds : {1, 100, 769, 10000}) {
        INFO(13 * rounds << " turns");
        CHECK(clock.boundary(13 * rounds * sectors) == 441000 * rounds);
    }
    // In between: the first sample at or after turns·441000/13, in whole numbers.
    for (const std::int64_t turn : {1, 5, 9999, 10000}) {
        INFO("turn " << turn);
        CHECK(clock.boundary(turn * sectors) == (turn * 441000 + 12) / 13);
    }
}
