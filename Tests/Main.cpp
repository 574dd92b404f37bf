// SPDX-License-Identifier: GPL-3.0-or-later
// The main() of every test program, compiled once.

#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
