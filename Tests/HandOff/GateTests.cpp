// SPDX-License-Identifier: GPL-3.0-or-later
#include "HandOff/Gate.h"

#include <catch2/catch.hpp>

#include <atomic>
#include <thread>

using headland::handoff::Gate;

TEST_CASE("Nobody goes through a closed gate", "[gate]") {
    Gate gate;
    REQUIRE(gate.enter());
    gate.leave();
    gate.close();
    CHECK_FALSE(gate.enter());
    gate.close(); // again: closed it stays
    CHECK_FALSE(gate.enter());
    gate.open();
    CHECK(gate.enter());
}

TEST_CASE("While the gate is closed what lies behind it is the other thread's alone", "[gate]") {
    Gate gate;
    long behind = 0; // no atomic: the gate is what keeps the two apart
    std::atomic<bool> running{true};
    long passages = 0, refusals = 0;
    std::thread audio([&] {
        while (running) {
            if (!gate.enter()) {
                ++refusals;
                continue;
            }
            ++behind;
            ++passages;
            gate.leave();
        }
    });
    long mine = 0;
    for (int round = 0; round < 500; ++round) {
        gate.close();
        const auto before = behind;
        for (int i = 0; i < 100; ++i)
            ++behind;
        mine += 100;
        REQUIRE(behind == before + 100);
        gate.open();
        std::this_thread::yield();
    }
    running = false;
    audio.join();
    CHECK(behind == passages + mine);
    CHECK(passages > 0);
}
