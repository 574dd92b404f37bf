// SPDX-License-Identifier: GPL-3.0-or-later
// What the program asks of the groove in one sector: how far each edge swings towards its neighbour and how far the
// stylus is lifted. Signed: a wall that swings away gives room. µm. Audio thread.
#pragma once

#include <algorithm>
#include <limits>
#include <span>

namespace headland::plan {

/// Greatest swings in a sector (or several).
struct SectorExtremes {
    double outer_um = 0;  ///< outer edge outwards, √2·d_R
    double inner_um = 0;  ///< inner edge inwards, −√2·d_L
    double upward_um = 0; ///< lift of the stylus, −(d_R − d_L)/√2

    /// The greater of both, each swing by itself.
    friend SectorExtremes widest(const SectorExtremes& a, const SectorExtremes& b) noexcept {
        return {std::max(a.outer_um, b.outer_um), std::max(a.inner_um, b.inner_um),
                std::max(a.upward_um, b.upward_um)};
    }
};

/// Gathers a sector's extremes from wall displacements.
class ExtremeCollector {
public:
    /// Displacements of the left (inner) and right (outer) wall, µm.
    void add(std::span<const double> left_um, std::span<const double> right_um) noexcept {
        for (std::size_t i = 0; i < left_um.size(); ++i) {
            leftLeast_um = std::min(leftLeast_um, left_um[i]);
            rightGreatest_um = std::max(rightGreatest_um, right_um[i]);
            liftGreatest_um = std::max(liftGreatest_um, left_um[i] - right_um[i]);
        }
    }

    /// The extremes since the last call; zeros if nothing was added.
    SectorExtremes take() noexcept;

private:
    static constexpr double none = std::numeric_limits<double>::infinity();
    double leftLeast_um = none;
    double rightGreatest_um = -none;
    double liftGreatest_um = -none;
};

} // namespace headland::plan
