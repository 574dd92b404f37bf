// SPDX-License-Identifier: GPL-3.0-or-later
// What the preview head hears, in the bins of a profile: those of the plan are finer, and their borders are others. What lies
// across a border counts on both sides of it, so that no bin says less than there was. Audio thread.
#pragma once

#include "Plan/Profile.h"
#include "Plan/SectorExtremes.h"

#include <cstdint>

namespace headland::cut {

class HeardBins {
public:
    /// `finerPerTurn`: the plan's bins in a turn, at least as many as a profile has.
    explicit HeardBins(int finerPerTurn) noexcept : finer(finerPerTurn) {}

    /// The next of the plan's bins. Whether it ends one of a profile's, which is then last().
    bool add(const plan::SectorExtremes& bin) noexcept {
        constexpr std::int64_t coarse = plan::Profile::binsPerTurn;
        now.widen(bin);
        ++count;
        if (count * coarse < (number + 1) * finer)
            return false;
        ended = now;
        now = {};
        if (count * coarse > (number + 1) * finer)
            now.widen(bin);
        ++number;
        return true;
    }

    const plan::ProfileBin& last() const noexcept { return ended; }
    /// Of that one, from 0 on.
    std::int64_t lastNumber() const noexcept { return number - 1; }

private:
    std::int64_t finer;
    std::int64_t count = 0;  ///< of the plan's bins
    std::int64_t number = 0; ///< of the bin that is being heard
    plan::ProfileBin now, ended;
};

} // namespace headland::cut
