// SPDX-License-Identifier: GPL-3.0-or-later
// The level an engineer rides: a gain that goes to what it is set to in a straight line of 20 ms, so that nothing clicks.
// At 0 dB the program goes through untouched, bit for bit. Audio thread.
#pragma once

#include <cmath>
#include <cstdint>
#include <span>

namespace headland::feed {

class LevelTrim {
public:
    static constexpr double ramp_s = 0.02;

    explicit LevelTrim(double sampleRate_hz) noexcept
        : rampSamples(static_cast<std::int64_t>(std::llround(ramp_s * sampleRate_hz))) {}

    /// Goes to this trim from the next sample on.
    void set(double trim_db) noexcept {
        if (trim_db == wanted_db)
            return;
        wanted_db = trim_db;
        from = gain();
        to = trim_db == 0 ? 1 : std::pow(10, trim_db / 20);
        position = 0;
    }

    /// Trims a block in place.
    void process(std::span<float> left, std::span<float> right) noexcept {
        for (std::size_t i = 0; i < left.size(); ++i) {
            if (position < rampSamples)
                ++position;
            else if (to == 1)
                return;
            const auto now = gain();
            left[i] = static_cast<float>(left[i] * now);
            right[i] = static_cast<float>(right[i] * now);
        }
    }

private:
    double gain() const noexcept {
        return position >= rampSamples
                   ? to
                   : from + (to - from) * static_cast<double>(position) / static_cast<double>(rampSamples);
    }

    std::int64_t rampSamples;
    std::int64_t position = rampSamples;
    double wanted_db = 0;
    double from = 1, to = 1;
};

} // namespace headland::feed
