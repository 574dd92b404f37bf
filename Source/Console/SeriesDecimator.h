// SPDX-License-Identifier: GPL-3.0-or-later
// Several series over one axis, kept for a drawing in a fixed number of bins however long they get: each bin holds the
// least, greatest and mean of every series over an equal number of samples. When all bins are full, neighbours are
// merged and every bin covers twice as many from then on. Memory is taken at construction only. One thread.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <span>
#include <stdexcept>
#include <vector>

namespace headland::console {

/// Samples of one series in one bin; only finite ones count.
struct SeriesRange {
    double least = 0;
    double greatest = 0;
    double sum = 0;
    std::int64_t count = 0; ///< 0: no value in this bin

    bool empty() const noexcept { return count == 0; }
    double mean() const noexcept { return count == 0 ? 0 : sum / static_cast<double>(count); }

    void add(double value) noexcept {
        if (!std::isfinite(value))
            return;
        least = empty() ? value : std::min(least, value);
        greatest = empty() ? value : std::max(greatest, value);
        sum += value;
        ++count;
    }

    void merge(const SeriesRange& other) noexcept {
        if (other.empty())
            return;
        least = empty() ? other.least : std::min(least, other.least);
        greatest = empty() ? other.greatest : std::max(greatest, other.greatest);
        sum += other.sum;
        count += other.count;
    }
};

/// Keeps `seriesCount` series that are sampled together.
template <std::size_t seriesCount>
class SeriesDecimator {
public:
    struct Bin {
        double start = 0; ///< on the axis, where its first sample begins
        double end = 0;   ///< on the axis, where its last sample ends
        std::array<SeriesRange, seriesCount> series{};
        std::uint32_t marks = 0; ///< every mark any of its samples had

        /// Takes in the bin that follows on the axis.
        void merge(const Bin& following) noexcept {
            end = following.end;
            marks |= following.marks;
            for (std::size_t i = 0; i < seriesCount; ++i)
                series[i].merge(following.series[i]);
        }
    };

    /// Keeps at most `capacity` bins: an even number, at least 2; std::invalid_argument otherwise.
    explicit SeriesDecimator(std::size_t capacity) : capacity_(capacity) {
        if (capacity < 2 || capacity % 2 != 0)
            throw std::invalid_argument("a series decimator needs an even number of bins");
        kept.reserve(capacity);
    }

    /// Adds one sample of every series, covering `start` to `end` of the axis; values that are not finite are left
    /// out. `marks` are bits that stay set in whatever bin the sample ends up in.
    void add(double start, double end, const std::array<double, seriesCount>& values,
             std::uint32_t marks) noexcept {
        if (kept.empty() || inLast == samplesPerBin_)
            openBin(start);
        auto& bin = kept.back();
        bin.end = end;
        bin.marks |= marks;
        for (std::size_t i = 0; i < seriesCount; ++i)
            bin.series[i].add(values[i]);
        ++inLast;
    }

    /// The bins so far, in order of the axis; the last one may hold fewer samples than the others.
    std::span<const Bin> bins() const noexcept { return kept; }

    /// Samples a full bin covers: a power of two.
    std::int64_t samplesPerBin() const noexcept { return samplesPerBin_; }

private:
    void openBin(double start) noexcept {
        if (kept.size() == capacity_)
            mergeNeighbours();
        kept.emplace_back().start = start; // never past the reserved capacity
        inLast = 0;
    }

    void mergeNeighbours() noexcept {
        for (std::size_t i = 0; i < capacity_ / 2; ++i) {
            auto bin = kept[2 * i];
            bin.merge(kept[2 * i + 1]);
            kept[i] = bin;
        }
        kept.resize(capacity_ / 2);
        samplesPerBin_ *= 2;
    }

    std::size_t capacity_;
    std::vector<Bin> kept;
    std::int64_t samplesPerBin_ = 1;
    std::int64_t inLast = 0;
};

} // namespace headland::console
