// SPDX-License-Identifier: GPL-3.0-or-later
// Ctrl-C and a polite kill are noted while asked for, and handled as before afterwards.

#include "Console/StopSignal.h"

#include <catch2/catch.hpp>

#include <csignal>

using headland::console::Stopped;
using headland::console::StopSignal;

namespace {

int heard = 0;
void hear(int number) {
    heard = number;
}

} // namespace

TEST_CASE("Each of the two signals is noted and turned into a stop") {
    for (const auto number : {SIGINT, SIGTERM, SIGHUP}) {
        std::signal(number, SIG_DFL); // a test run in the background starts with SIGINT ignored
        const StopSignal stop;
        CHECK_FALSE(stop.isSet());
        CHECK_NOTHROW(stop.check());
        ::raise(number);
        CHECK(stop.isSet());
        CHECK_THROWS_AS(stop.check(), Stopped);
    }
}

TEST_CASE("Afterwards the signal goes where it went before, and a new stop starts clean") {
    const auto before = std::signal(SIGINT, hear);
    {
        const StopSignal stop;
        ::raise(SIGINT);
        CHECK(stop.isSet());
        CHECK(heard == 0);
    }
    ::raise(SIGINT);
    CHECK(heard == SIGINT);
    CHECK_FALSE(StopSignal().isSet());
    std::signal(SIGINT, before);
}

TEST_CASE("A signal that was ignored stays ignored") {
    const auto before = std::signal(SIGINT, SIG_IGN);
    {
        const StopSignal stop;
        ::raise(SIGINT);
        CHECK_FALSE(stop.isSet());
    }
    std::signal(SIGINT, before);
}
