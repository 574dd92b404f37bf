// SPDX-License-Identifier: GPL-3.0-or-later
// The correlation by Fourier transforms against the sum that defines it, over the ends of the blocks it is made in; the feature
// against its description written out.

#include "Align/Correlation.h"

#include "Align/Feature.h"
#include "Tests/Support/Random.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

using namespace headland;
using namespace headland::align;
using namespace headland::test;

namespace {

std::vector<float> noise(std::size_t count, unsigned seed) {
    Random random(seed);
    std::vector<float> values(count);
    std::generate(values.begin(), values.end(), [&] { return static_cast<float>(random.between(-1, 1)); });
    return values;
}

} // namespace

TEST_CASE("Correlation by Fourier transforms is that by its sum, at every place", "[align]") {
    Correlator correlator;
    for (const auto& [count, part] : {std::pair{50000, 800},
                                      {33567, 800},
                                      {33568, 800},
                                      {33569, 800},
                                      {5000, 4096},
                                      {900, 900},
                                      {70000, 1}}) {
        auto signal = noise(static_cast<std::size_t>(count), 1);
        std::fill(signal.begin() + count / 3, signal.begin() + count / 2, 0.0F); // silence
        const auto wanted = noise(static_cast<std::size_t>(part), 2);
        const auto all = correlator.everywhere(signal, wanted);
        REQUIRE(all.size() == static_cast<std::size_t>(count - part + 1));
        auto worst = 0.0;
        for (std::size_t i = 0; i<all.size(); i += part> 1 ? 1 : 97)
            worst = std::max(
                worst, std::abs(all[i] - correlationAt(signal, wanted, static_cast<std::ptrdiff_t>(i))));
        INFO(count << " values, a part of " << part);
        CHECK(worst < 1e-5);
    }
}

TEST_CASE("A part is found where it was taken, whatever its level", "[align]") {
    Correlator correlator;
    const auto signal = noise(100000, 3);
    for (const std::size_t place : {0UL, 31968UL, 31969UL, 65000UL, 99200UL}) {
        std::vector<float> part(signal.begin() + static_cast<std::ptrdiff_t>(place),
                                signal.begin() + static_cast<std::ptrdiff_t>(place) + 800);
        for (auto& value : part)
            value *= 3;
        const auto all = correlator.everywhere(signal, part);
        const auto best = std::max_element(all.begin(), all.end());
        CHECK(best - all.begin() == static_cast<std::ptrdiff_t>(place));
        CHECK(*best == Approx(1).margin(1e-5));
    }
}

TEST_CASE("Correlation with silence, past the ends or of nothing is none", "[align]") {
    const auto signal = noise(1000, 4), part = noise(100, 5);
    CHECK(correlationAt(signal, part, -1) == 0);
    CHECK(correlationAt(signal, part, 901) == 0);
    CHECK(correlationAt(std::vector<float>(1000), part, 5) == 0);
    auto faint = part;
    for (auto& value : faint)
        value *= 1e-4F;
    CHECK(std::abs(correlationAt(faint, part, 0)) < 0.02);
    Correlator correlator;
    CHECK(correlator.everywhere(part, signal).empty());
    CHECK(correlator.everywhere(signal, {}).empty());
    CHECK(correlator.everywhere(noise(9000, 1), noise(Correlator::partMax + 1, 2)).empty());
}

TEST_CASE("The feature is what it is said to be", "[align]") {
    Random random(6);
    std::vector<plan::ProfileBin> bins(900);
    for (auto& bin : bins)
        bin = {static_cast<float>(random.between(0, 50)), static_cast<float>(random.between(0, 50)),
               static_cast<float>(random.between(0, 5))};
    const auto feature = featureOf(bins);
    const auto logarithm = [&](std::size_t i) {
        auto outer = 0.0F, inner = 0.0F, upward = 0.0F;
        for (auto k = i - 2; k <= i + 2; ++k) {
            outer = std::max(outer, bins[k].outer_um);
            inner = std::max(inner, bins[k].inner_um);
            upward = std::max(upward, bins[k].upward_um);
        }
        return std::log(1.0 + outer + inner + upward);
    };
    const auto smooth = [&](std::size_t i) {
        auto sum = 0.0;
        for (int k = -7; k <= 7; ++k)
            sum += (8 - std::abs(k)) * logarithm(i + static_cast<std::size_t>(k + 7) - 7) / 64;
        return sum;
    };
    for (const std::size_t i : {209UL, 450UL, 690UL}) {
        auto mean = 0.0;
        for (auto k = i - 200; k <= i + 200; ++k)
            mean += smooth(k) / 401;
        CHECK(feature[i] == Approx(smooth(i) - mean).margin(1e-5));
    }
    // Beyond its reach nothing changes a figure.
    auto other =
        std::vector<plan::ProfileBin>(bins.begin() + 450 - featureReach, bins.begin() + 451 + featureReach);
    CHECK(featureOf(other)[featureReach] == Approx(feature[450]).margin(1e-6));
}

TEST_CASE("The feature of what stays as loud is nothing, at its ends as well", "[align]") {
    for (const auto value : featureOf(std::vector<plan::ProfileBin>(900, {30, 20, 5})))
        REQUIRE(std::abs(value) < 1e-5F);
}
