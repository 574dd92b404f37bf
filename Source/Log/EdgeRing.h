// SPDX-License-Identifier: GPL-3.0-or-later
// The edges of the last turns, sample by sample, and the turns around a place out of them. Memory is that of the turns held.
// One thread at a time, not the audio thread: it allocates.
#pragma once

#include "Cut/GroovePatch.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace headland::log {

class EdgeRing {
public:
    /// `turn_samples`: samples of a turn, 1 or more; `turns`: how many are held.
    EdgeRing(double turn_samples, double turns);

    /// The next edges. Where some are missing, what came before them is forgotten.
    void add(const cut::EdgeRun& run);

    /// Counted from where the stylus was lowered: the oldest sample held, and the one that will come next.
    std::int64_t oldest() const noexcept { return first; }
    std::int64_t next() const noexcept { return end; }
    double turn_samples() const noexcept { return turn; }
    /// What the edges are relative to.
    double loweredRadius_mm() const noexcept { return loweredRadius; }

    /// NaN where it is not held.
    cut::EdgePoint at(std::int64_t sample) const noexcept;
    /// Between two samples in a straight line, as the check of the groove has it where a turn has a fraction of a sample.
    cut::EdgePoint between(double sample) const noexcept;

    /// A patch without turns around a sample, over `halfLength_mm` on either side. `radius_mm`: about where it is.
    cut::GroovePatch emptyPatch(double radius_mm, double halfLength_mm, double time_s) const;
    /// A turn of a patch around `middle`; nothing where none of it is held.
    std::optional<cut::PatchTurn> turnOf(const cut::GroovePatch& patch, std::int64_t middle,
                                         int turnNumber) const;

private:
    bool has(std::int64_t sample) const noexcept { return sample >= first && sample < end; }

    double turn;
    std::vector<cut::EdgePoint> ring; ///< sample n at n modulo its length
    std::int64_t first = 0, end = 0;
    double loweredRadius = 0;
};

/// Samples from one point of a patch to the next, where a turn has so many.
std::int64_t step_samples(const cut::GroovePatch& patch, double turn_samples) noexcept;

} // namespace headland::log
