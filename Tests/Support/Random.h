// SPDX-License-Identifier: GPL-3.0-or-later
// Random numbers that are the same on every machine: the standard's generator, without the standard's
// distributions, whose results are not fixed.
#pragma once

#include <random>

namespace headland::test {

class Random {
public:
    explicit Random(unsigned seed) : bits(seed) {}

    /// 0 ≤ x < 1
    double unit() { return bits() / 4294967296.0; }
    double between(double low, double high) { return low + (high - low) * unit(); }

private:
    std::mt19937 bits;
};

} // namespace headland::test
