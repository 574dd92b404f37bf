// SPDX-License-Identifier: GPL-3.0-or-later
// The digital preview: stereo program delayed by a fixed number of samples, between the preview head and the stylus.
// Sized at construction; process() allocates nothing. Audio thread.
#pragma once

#include <cstddef>
#include <span>
#include <utility>
#include <vector>

namespace headland::feed {

class PreviewDelay {
public:
    explicit PreviewDelay(std::size_t delaySamples) : left(delaySamples, 0.0f), right(delaySamples, 0.0f) {}

    /// Exchanges the newest program for the program `delaySamples` ago, in place; silence before there was any.
    void process(std::span<float> l, std::span<float> r) noexcept {
        for (std::size_t i = 0; i < l.size();) {
            const auto run = l.size() - i < left.size() - position ? l.size() - i : left.size() - position;
            for (std::size_t k = 0; k < run; ++k) {
                std::swap(l[i + k], left[position + k]);
                std::swap(r[i + k], right[position + k]);
            }
            i += run;
            position = position + run == left.size() ? 0 : position + run;
        }
    }

private:
    std::vector<float> left, right;
    std::size_t position = 0;
};

} // namespace headland::feed
