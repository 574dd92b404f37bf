// SPDX-License-Identifier: GPL-3.0-or-later
// Where the groove was, moment by moment, when a side was rehearsed with the very settings it is cut with. Grows while it is
// made, on any thread; asked on the audio thread, where nothing here allocates.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace headland::disc {

class RehearsedSide {
public:
    /// The next sector of lead-in or program, all of one length: program time and centre-line radius at its end.
    void add(double time_s, double radius_mm) {
        if (count == 0)
            first_s = time_s;
        if (count++ % sectorsPerStep == 0)
            radii_mm.push_back(static_cast<float>(radius_mm));
        last_s = time_s;
        last_mm = radius_mm;
    }

    /// Whether there is a side at all.
    bool isEmpty() const noexcept { return count < 2; }
    /// Where the program ended.
    double end_mm() const noexcept { return last_mm; }
    /// Where the groove was at a program time; before the first sector as at that, after the last as at the end.
    double radius_mm(double time_s) const noexcept {
        const auto sector_s = (last_s - first_s) / static_cast<double>(count - 1);
        const auto at = std::max(0.0, (time_s - first_s) / (sector_s * sectorsPerStep));
        const auto step = static_cast<std::size_t>(at);
        if (step + 1 >= radii_mm.size()) // less than a step before the end, or after it
            return last_mm;
        const double from_mm = radii_mm[step], to_mm = radii_mm[step + 1];
        return from_mm + (to_mm - from_mm) * (at - static_cast<double>(step));
    }

private:
    static constexpr std::size_t sectorsPerStep = 8;
    std::vector<float> radii_mm; ///< at every so many sectors
    std::size_t count = 0;       ///< sectors
    double first_s = 0, last_s = 0, last_mm = 0;
};

} // namespace headland::disc
