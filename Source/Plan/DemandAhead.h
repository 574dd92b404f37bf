// SPDX-License-Identifier: GPL-3.0-or-later
// What spacing the sectors ahead demand, as it is when a plan is made. Lengths µm. Audio thread.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>

namespace headland::plan {

/// Demands within the sectors ahead, at parts of equal length.
class SectorDemand {
public:
    virtual ~SectorDemand() = default;
    /// A demand at the end of each part, and at [0] at the sector's begin: room for as many as a sector has at most.
    using Places = std::array<double, 129>;
    /// Parts of a sector.
    virtual int parts() const noexcept = 0;
    /// Spacing demanded within a sector: parts() + 1 values.
    virtual void within(std::int64_t sector, Places& spacing_um) const noexcept = 0;
};

struct DemandAhead {
    std::span<const double>
        spacing_um;         ///< the greatest of the j-th sector ahead, at [j-1]; minus infinity: none
    int known;              ///< sectors ahead up to which the program has been heard
    double typicalOuter_um; ///< outer swing to be expected past those
    std::int64_t first = 0; ///< number of the first sector ahead
    int told = 0;           ///< sectors ahead up to which a rehearsal tells, where that is further
    std::span<const double> outlook_um =
        {}; ///< as spacing_um, further ahead and as rehearsed, for the optimiser only;
            ///< empty: that is all
    const SectorDemand* inside = nullptr;  ///< where in the sectors; nullptr: all of it at their ends
    std::span<const double> added_um = {}; ///< to be added to what `inside` says, by sector

    /// Calls heed(part, spacing_um) for every place of the j-th sector ahead that demands something; part 0 … 1 of the sector.
    template <typename Heed>
    void eachPlace(int j, Heed heed) const noexcept {
        const auto at = static_cast<std::size_t>(j) - 1;
        if (inside == nullptr)
            return heed(1.0, spacing_um[at]);
        const auto added = added_um.empty() ? 0.0 : added_um[at];
        const auto parts = inside->parts();
        SectorDemand::Places spacings_um;
        inside->within(first + j - 1, spacings_um);
        for (int i = 0; i <= parts; ++i)
            heed(static_cast<double>(i) / parts, spacings_um[static_cast<std::size_t>(i)] + added);
    }
};

} // namespace headland::plan
