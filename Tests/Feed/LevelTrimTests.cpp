// SPDX-License-Identifier: GPL-3.0-or-later
#include "Feed/LevelTrim.h"
#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using headland::feed::LevelTrim;

namespace {

std::vector<float> noise(std::size_t count) {
    headland::test::Random random(5);
    std::vector<float> samples(count);
    std::generate(samples.begin(), samples.end(), [&] { return static_cast<float>(random.between(-1, 1)); });
    return samples;
}

/// Trims in blocks; `trim_db` is set at sample 1000.
std::vector<float> trimmed(std::vector<float> samples, double trim_db, std::size_t block) {
    LevelTrim trim(48000);
    auto right = samples;
    for (std::size_t at = 0; at < samples.size();) {
        if (at == 1000)
            trim.set(trim_db);
        const auto until =
            std::min(samples.size(), at < 1000 ? std::min<std::size_t>(1000, at + block) : at + block);
        trim.process(std::span(samples).subspan(at, until - at), std::span(right).subspan(at, until - at));
        at = until;
    }
    CHECK(samples == right);
    return samples;
}

} // namespace

TEST_CASE("At 0 dB the program goes through bit for bit", "[feed]") {
    const auto program = noise(5000);
    CHECK(trimmed(program, 0, 64) == program);
}

TEST_CASE("A trim is reached in 20 ms in a straight line and then exact", "[feed]") {
    const std::vector<float> ones(5000, 1.0f);
    const auto trim = trimmed(ones, -6, 128);
    const auto gain = std::pow(10, -6.0 / 20);
    CHECK(trim[999] == 1);
    CHECK(trim[1000 + 479] == Approx((1 + gain) / 2).margin(1e-6)); // half of 20 ms at 48 kHz
    CHECK(trim[1000 + 959] == Approx(gain).margin(1e-6));
    for (std::size_t i = 2000; i < trim.size(); ++i)
        CHECK(trim[i] == Approx(gain).margin(1e-7));
    auto steepest = 0.0;
    for (std::size_t i = 1; i < trim.size(); ++i)
        steepest = std::max(steepest, std::abs(static_cast<double>(trim[i]) - trim[i - 1]));
    CHECK(steepest == Approx((1 - gain) / 960).epsilon(0.01));
}

TEST_CASE("A trim back at 0 dB leaves the program alone again", "[feed]") {
    LevelTrim trim(48000);
    auto left = noise(4000), right = left;
    trim.set(3);
    trim.process(left, right);
    trim.set(0);
    trim.process(left, right);
    auto again = noise(4000), same = again;
    trim.process(again, same);
    CHECK(again == noise(4000));
}

TEST_CASE("A trim is the same for every block size", "[feed]") {
    const auto program = noise(5000);
    const auto reference = trimmed(program, 4.5, 4096);
    for (const std::size_t block : {1u, 17u, 64u, 1000u})
        CHECK(trimmed(program, 4.5, block) == reference);
}
