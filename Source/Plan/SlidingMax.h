// SPDX-License-Identifier: GPL-3.0-or-later
// The greatest of the last so many values, at a cost that does not depend on how many: of the values kept none is smaller than
// one that came after it. Sized once; audio thread.
#pragma once

#include <bit>
#include <cstdint>
#include <vector>

namespace headland::plan {

class SlidingMax {
public:
    /// Over so many values, at least one.
    explicit SlidingMax(std::int64_t most)
        : window(most), kept(std::bit_ceil(static_cast<std::size_t>(most) + 1)) {}

    /// Takes the next value; returns the greatest of the last `most` that there are.
    double push(double value) noexcept {
        while (end > begin && at(end - 1).value <= value)
            --end;
        at(end++) = {value, count};
        if (at(begin).number <= count++ - window)
            ++begin;
        return at(begin).value;
    }

private:
    struct Kept {
        double value;
        std::int64_t number;
    };
    Kept& at(std::size_t i) noexcept { return kept[i & (kept.size() - 1)]; }

    std::int64_t window;
    std::vector<Kept> kept;
    std::size_t begin = 0, end = 0; ///< of the values kept
    std::int64_t count = 0;         ///< of values taken
};

} // namespace headland::plan
