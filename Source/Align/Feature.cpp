// SPDX-License-Identifier: GPL-3.0-or-later
#include "Align/Feature.h"

#include <algorithm>
#include <cmath>

namespace headland::align {

namespace {

/// What a loudness is added to: a groove that moves by less than this counts as one that rests. µm
constexpr double rest_um = 1;
constexpr std::ptrdiff_t halfGreatest = 2, halfWeights = 7, halfMean = 200;
static_assert(featureReach >= halfGreatest + halfWeights + halfMean);

float finite(float excursion_um) {
    return std::isfinite(excursion_um) ? excursion_um : 0;
}

/// Logarithm of the loudness of the bins around each one.
std::vector<double> logarithms(std::span<const plan::ProfileBin> bins) {
    const auto count = static_cast<std::ptrdiff_t>(bins.size());
    std::vector<double> result;
    result.reserve(bins.size());
    for (std::ptrdiff_t i = 0; i < count; ++i) {
        plan::ProfileBin greatest;
        for (auto k = std::max<std::ptrdiff_t>(0, i - halfGreatest);
             k < std::min(count, i + halfGreatest + 1); ++k) {
            const auto& bin = bins[static_cast<std::size_t>(k)];
            greatest = widest(greatest, {finite(bin.outer_um), finite(bin.inner_um), finite(bin.upward_um)});
        }
        result.push_back(std::log1p(loudnessOf(greatest) / rest_um));
    }
    return result;
}

std::vector<double> smoothed(const std::vector<double>& values) {
    const auto count = static_cast<std::ptrdiff_t>(values.size());
    std::vector<double> result(values.size());
    for (std::ptrdiff_t i = 0; i < count; ++i) {
        auto sum = 0.0, weight = 0.0;
        for (auto k = std::max(-halfWeights, -i); k <= std::min(halfWeights, count - 1 - i); ++k) {
            const auto factor = static_cast<double>(halfWeights + 1 - std::abs(k));
            sum += factor * values[static_cast<std::size_t>(i + k)];
            weight += factor;
        }
        result[static_cast<std::size_t>(i)] = sum / weight;
    }
    return result;
}

} // namespace

std::vector<float> featureOf(std::span<const plan::ProfileBin> bins) {
    const auto values = smoothed(logarithms(bins));
    std::vector<double> sums{0}; // of the values before each bin
    sums.reserve(values.size() + 1);
    for (const auto value : values)
        sums.push_back(sums.back() + value);
    const auto count = static_cast<std::ptrdiff_t>(values.size());
    std::vector<float> result;
    result.reserve(values.size());
    for (std::ptrdiff_t i = 0; i < count; ++i) {
        const auto from = std::max<std::ptrdiff_t>(0, i - halfMean), to = std::min(count, i + halfMean + 1);
        const auto mean = (sums[static_cast<std::size_t>(to)] - sums[static_cast<std::size_t>(from)])
                          / static_cast<double>(to - from);
        result.push_back(static_cast<float>(values[static_cast<std::size_t>(i)] - mean));
    }
    return result;
}

} // namespace headland::align
