// SPDX-License-Identifier: GPL-3.0-or-later
// The input guard: what is no program becomes silence and is counted, with the place of the first; program above full
// scale is let through.
#include "Feed/InputGuard.h"

#include <array>
#include <catch2/catch.hpp>
#include <limits>
#include <vector>

using headland::feed::InputGuard;

namespace {

constexpr auto noNumber = std::numeric_limits<float>::quiet_NaN();
constexpr auto infinity = std::numeric_limits<float>::infinity();

} // namespace

TEST_CASE("what is no program becomes silence and is counted", "[guard]") {
    const auto bad =
        GENERATE(as<float>{}, noNumber, -noNumber, infinity, -infinity, 1e30f, -1e30f, 1001.0f, -1001.0f);
    const auto block = GENERATE(1u, 7u, 64u);
    const auto channel = GENERATE(0, 1);
    INFO(bad << " in channel " << channel << ", blocks of " << block);
    std::vector<float> left(64, 0.25f), right(64, -0.5f);
    auto& hit = channel == 0 ? left : right;
    hit[20] = hit[40] = bad;
    InputGuard guard;
    auto reported = 0;
    for (std::size_t at = 0; at < left.size(); at += block) {
        const auto size = std::min<std::size_t>(block, left.size() - at);
        reported += guard.clean(std::span(left).subspan(at, size), std::span(right).subspan(at, size));
    }
    CHECK(reported == 2);
    CHECK(guard.badSamples() == 2);
    CHECK(guard.firstBad() == 20);
    for (std::size_t i = 0; i < left.size(); ++i) {
        const auto isBad = i == 20 || i == 40;
        CHECK(left[i] == (isBad && channel == 0 ? 0.0f : 0.25f));
        CHECK(right[i] == (isBad && channel == 1 ? 0.0f : -0.5f));
    }
}

TEST_CASE("a frame bad in both channels is two bad samples", "[guard]") {
    std::array<float, 3> left{0, noNumber, 0}, right{0, infinity, noNumber};
    InputGuard guard;
    CHECK(guard.clean(left, right) == 3);
    CHECK(guard.firstBad() == 1);
}

TEST_CASE("the first bad sample is counted from the start, across blocks", "[guard]") {
    std::vector<float> left(1000, 0.1f), right(1000, 0.1f);
    InputGuard guard;
    CHECK(guard.clean(left, right) == 0);
    CHECK(guard.firstBad() == -1);
    right[3] = noNumber;
    CHECK(guard.clean(left, right) == 1);
    CHECK(guard.firstBad() == 1003);
    left[1] = noNumber;
    CHECK(guard.clean(left, right) == 1);
    CHECK(guard.firstBad() == 1003);
    CHECK(guard.badSamples() == 2);
}

TEST_CASE("program above full scale is let through", "[guard]") {
    std::vector<float> left{0.0f, 1.0f, -1.0f, 2.5f, -8.0f, 1000.0f, -1000.0f, 1e-40f};
    auto right = left;
    const auto before = left;
    InputGuard guard;
    CHECK(guard.clean(left, right) == 0);
    CHECK(left == before);
    CHECK(right == before);
    CHECK(guard.badSamples() == 0);
    CHECK(guard.firstBad() == -1);
}
