// SPDX-License-Identifier: GPL-3.0-or-later
// Keeps what is not program out of the chain: NaN, infinities and absurd values become silence and are counted, with the
// place of the first. Program above full scale is let through: float files may hold it. Audio thread.
#pragma once

#include <cmath>
#include <cstdint>
#include <span>

namespace headland::feed {

class InputGuard {
public:
    /// Largest magnitude taken for program: 60 dB above full scale.
    static constexpr float greatest = 1000.0f;

    /// Cleans a block in place and returns how many samples of it were bad (a frame with both channels bad is two).
    int clean(std::span<float> left, std::span<float> right) noexcept {
        auto good = true;
        for (std::size_t i = 0; i < left.size(); ++i)
            good = good & (std::abs(left[i]) <= greatest) & (std::abs(right[i]) <= greatest);
        const auto bad = good ? 0 : silence(left, right);
        position += static_cast<std::int64_t>(left.size());
        return bad;
    }

    std::int64_t badSamples() const noexcept { return bad_samples; }
    /// Sample index of the first bad one; -1 when there was none.
    std::int64_t firstBad() const noexcept { return first_bad; }

private:
    int silence(std::span<float> left, std::span<float> right) noexcept {
        auto bad = 0;
        for (std::size_t i = 0; i < left.size(); ++i)
            for (auto* sample : {&left[i], &right[i]})
                if (!(std::abs(*sample) <= greatest)) {
                    *sample = 0;
                    ++bad;
                    if (first_bad < 0)
                        first_bad = position + static_cast<std::int64_t>(i);
                }
        bad_samples += bad;
        return bad;
    }

    std::int64_t position = 0;
    std::int64_t bad_samples = 0;
    std::int64_t first_bad = -1;
};

} // namespace headland::feed
