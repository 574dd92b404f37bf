// SPDX-License-Identifier: GPL-3.0-or-later
#include "Lathe/ControlSignal.h"

#include <catch2/catch.hpp>

#include <limits>

using headland::lathe::ControlScale;

TEST_CASE("A command is a straight line of signal, by scale, zero and polarity", "[lathe]") {
    const ControlScale plain{10000, 0, false};
    CHECK(plain.signal(0) == 0);
    CHECK(plain.signal(2500) == 0.25);
    CHECK(plain.signal(10000) == 1);
    CHECK(plain.reach_um() == 10000);
    const ControlScale inverted{1000, 0.5, true};
    CHECK(inverted.signal(0) == 0.5);
    CHECK(inverted.signal(250) == 0.25);
    CHECK(inverted.signal(1500) == -1);
    CHECK(inverted.reach_um() == 1500);
    const ControlScale raised{1000, 0.5, false};
    CHECK(raised.reach_um() == 500);
    CHECK(raised.signal(500) == 1);
}

TEST_CASE("A control signal never leaves full scale, and what is no command is rest", "[lathe]") {
    for (const auto zero : {-1.0, -0.3, 0.0, 1.0})
        for (const auto inverted : {false, true}) {
            const ControlScale scale{100, zero, inverted};
            CHECK(scale.rest() == zero);
            CHECK(scale.signal(std::numeric_limits<double>::quiet_NaN()) == zero);
            CHECK(scale.signal(std::numeric_limits<double>::infinity()) == zero);
            CHECK(scale.signal(1e30) == (inverted ? -1 : 1));
            CHECK(scale.signal(-1e30) == (inverted ? 1 : -1));
        }
}
