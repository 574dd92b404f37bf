// SPDX-License-Identifier: GPL-3.0-or-later
// The groove as it lies on the disc: its two edges, sample by sample. Plain data, made on the audio thread by the check of
// the groove that was cut, read anywhere.
#pragma once

#include <cstdint>
#include <limits>
#include <span>

namespace headland::cut {

/// Both edges of the groove at one sample, along the radius, relative to where the stylus was lowered; outward positive, so
/// that both shrink as the side goes in. A float holds a whole side to 0.02 µm.
struct EdgePoint {
    float outer_um;
    float inner_um;
};

inline constexpr EdgePoint noEdge{std::numeric_limits<float>::quiet_NaN(),
                                  std::numeric_limits<float>::quiet_NaN()};

/// Edges of neighbouring samples.
struct EdgeRun {
    double loweredRadius_mm;  ///< what they are relative to
    std::int64_t firstSample; ///< counted from where the stylus was lowered
    std::span<const EdgePoint> points;
};

} // namespace headland::cut
