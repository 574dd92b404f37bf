// SPDX-License-Identifier: GPL-3.0-or-later
// The bounded series against the same figures computed from all samples at once.

#include "Console/SeriesDecimator.h"

#include "Tests/Support/Random.h"

#include <catch2/catch.hpp>

#include <limits>
#include <vector>

using headland::console::SeriesDecimator;
using headland::console::SeriesRange;
using headland::test::Random;

namespace {

constexpr auto none = std::numeric_limits<double>::quiet_NaN();

struct Sample {
    double a, b;
    std::uint32_t marks;
};

std::vector<Sample> randomSamples(int count, unsigned seed) {
    Random random(seed);
    std::vector<Sample> samples;
    for (int i = 0; i < count; ++i)
        samples.push_back({random.between(-5, 9), random.unit() < 0.7 ? none : random.between(0, 1),
                           random.unit() < 0.01 ? 1u << static_cast<int>(random.between(0, 9)) : 0u});
    return samples;
}

SeriesDecimator<2> decimated(const std::vector<Sample>& samples, std::size_t capacity) {
    SeriesDecimator<2> decimator(capacity);
    for (std::size_t i = 0; i < samples.size(); ++i)
        decimator.add(static_cast<double>(i), static_cast<double>(i + 1), {samples[i].a, samples[i].b},
                      samples[i].marks);
    return decimator;
}

void checkRange(const SeriesRange& range, const std::vector<double>& values) {
    REQUIRE(range.count == static_cast<std::int64_t>(values.size()));
    if (values.empty())
        return;
    CHECK(range.least == *std::min_element(values.begin(), values.end()));
    CHECK(range.greatest == *std::max_element(values.begin(), values.end()));
    auto sum = 0.0;
    for (const auto value : values)
        sum += value;
    CHECK(range.mean() == Approx(sum / static_cast<double>(values.size())).epsilon(1e-12));
}

} // namespace

TEST_CASE("Every bin holds what all its samples say, whatever their number") {
    for (const auto count : {1, 7, 8, 9, 100, 1023, 1025, 9999}) {
        const auto samples = randomSamples(count, static_cast<unsigned>(count));
        const auto decimator = decimated(samples, 8);
        const auto bins = decimator.bins();
        REQUIRE(bins.size() <= 8);
        REQUIRE((count < 8 || bins.size() > 4));
        std::size_t next = 0;
        for (const auto& bin : bins) {
            REQUIRE(bin.start == static_cast<double>(next)); // nothing left out, nothing twice
            std::vector<double> a, b;
            std::uint32_t marks = 0;
            for (; next < static_cast<std::size_t>(bin.end); ++next) {
                a.push_back(samples[next].a);
                if (samples[next].b == samples[next].b)
                    b.push_back(samples[next].b);
                marks |= samples[next].marks;
            }
            checkRange(bin.series[0], a);
            checkRange(bin.series[1], b);
            CHECK(bin.marks == marks);
            if (&bin != &bins.back())
                CHECK(bin.end - bin.start == static_cast<double>(decimator.samplesPerBin()));
        }
        CHECK(next == samples.size());
    }
}

TEST_CASE("Bins are kept in one place, however long the series gets") {
    SeriesDecimator<1> decimator(64);
    decimator.add(0, 1, {0.0}, 0);
    const auto* place = decimator.bins().data();
    for (int i = 1; i < 300000; ++i)
        decimator.add(i, i + 1, {static_cast<double>(i)}, 0);
    CHECK(decimator.bins().data() == place);
    CHECK(decimator.bins().size() <= 64);
    CHECK(decimator.samplesPerBin() == 8192);
}

TEST_CASE("Infinity and NaN are left out of a series") {
    SeriesDecimator<1> decimator(2);
    decimator.add(0, 1, {std::numeric_limits<double>::infinity()}, 0);
    decimator.add(1, 2, {-std::numeric_limits<double>::infinity()}, 0);
    decimator.add(2, 3, {3.0}, 0);
    REQUIRE(decimator.bins().size() == 2);
    CHECK(decimator.bins()[0].series[0].empty());
    CHECK(decimator.bins()[1].series[0].greatest == 3.0);
}

TEST_CASE("A decimator wants an even number of bins") {
    CHECK_THROWS_AS(SeriesDecimator<1>(0), std::invalid_argument);
    CHECK_THROWS_AS(SeriesDecimator<1>(7), std::invalid_argument);
    CHECK_NOTHROW(SeriesDecimator<1>(2));
}
