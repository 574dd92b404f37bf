// SPDX-License-Identifier: GPL-3.0-or-later
// The preview delay is the program, so many samples later, whatever the blocks.
#include "Feed/PreviewDelay.h"

#include <algorithm>
#include <catch2/catch.hpp>

using headland::feed::PreviewDelay;

namespace {

constexpr std::size_t length = 3000;

/// Different in every sample and in each channel; never zero.
std::vector<float> ramp(float start, float step) {
    std::vector<float> samples(length);
    for (std::size_t i = 0; i < length; ++i)
        samples[i] = start + step * static_cast<float>(i);
    return samples;
}

std::vector<float> delayed(const std::vector<float>& samples, std::size_t delay) {
    std::vector<float> result(length, 0.0f);
    if (delay < length)
        std::copy(samples.begin(), samples.end() - static_cast<std::ptrdiff_t>(delay),
                  result.begin() + static_cast<std::ptrdiff_t>(delay));
    return result;
}

} // namespace

TEST_CASE("the preview is an exact delay for every block size", "[preview]") {
    const auto delay = GENERATE(1u, 2u, 99u, 100u, 101u, 1024u, 2999u, 5000u);
    const auto block = GENERATE(1u, 3u, 99u, 100u, 101u, 512u, 3000u);
    INFO("delay " << delay << ", blocks of " << block);
    const auto left = ramp(1, 1), right = ramp(-10000, -2);
    auto l = left, r = right;
    PreviewDelay preview(delay);
    for (std::size_t at = 0; at < length; at += block) {
        const auto size = std::min<std::size_t>(block, length - at);
        preview.process(std::span(l).subspan(at, size), std::span(r).subspan(at, size));
    }
    CHECK(l == delayed(left, delay));
    CHECK(r == delayed(right, delay));
}

TEST_CASE("the preview is exact when blocks change from call to call", "[preview]") {
    const auto left = ramp(1, 1), right = ramp(-10000, -2);
    auto l = left, r = right;
    PreviewDelay preview(777);
    std::size_t at = 0;
    for (std::size_t block = 0; at < length; block = block * 5 % 1013 + 1) {
        const auto size = std::min(block, length - at);
        preview.process(std::span(l).subspan(at, size), std::span(r).subspan(at, size));
        at += size;
    }
    CHECK(l == delayed(left, 777));
    CHECK(r == delayed(right, 777));
}
