// SPDX-License-Identifier: GPL-3.0-or-later
// The level at which a program that is too long would fit its disc: found by cutting it again at other levels, false
// position on the end radius over the amplitude (the room that is not silence's is very nearly in proportion to it),
// until two neighbouring tenths of a dB are known, one that fits and one that does not. Only the disc counts here, which
// is why a few cuts will do; whether a side is clean takes the search of Console/FitSearch.h. One thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"

#include <functional>

namespace headland::console {

/// Cuts the whole program with these settings; may throw to end the search.
using CutWith = std::function<cut::CutSummary(const cut::CutSettings&)>;

inline constexpr int levelSearchRunsMax = 6;

/// What the search found.
struct LevelSearchResult {
    enum class Outcome {
        found,        ///< `level_db` fits; `cut` is the side at that level
        noLevelHelps, ///< even silence would take more disc than there is
        notFound,     ///< no level that fits was met within the runs and the setting's range
    };
    Outcome outcome = Outcome::notFound;
    double level_db = 0;    ///< a multiple of 0.1 dB
    bool isHighest = false; ///< 0.1 dB more is known not to fit
    int runs = 0;           ///< cuts it took, at most levelSearchRunsMax
    cut::CutSummary cut{};  ///< the side at level_db
};

/// Disc radius that a silent program of this length leaves beyond the innermost allowed, mm; negative when even
/// silence does not fit.
double silentRoom_mm(const cut::CutSettings& settings, double turns);

/// Searches. `present` is the cut with `settings` as they are, which does not fit.
LevelSearchResult searchLevel(const cut::CutSettings& settings, const cut::CutSummary& present,
                              const CutWith& cutWith);

} // namespace headland::console
