// SPDX-License-Identifier: GPL-3.0-or-later
// The greatest value of one setting at which a side is clean: a bracket opened from the present value outward, then cut
// into three, two trials at a time, until two neighbouring tenths are known. The number of trials at a time does not
// depend on the machine: cleanliness is not quite monotone, and everybody shall get the same answer. One thread.
#pragma once

#include "Console/FitQuantity.h"
#include "Console/Limits.h"
#include "Cut/CutSummary.h"

#include <functional>
#include <optional>
#include <vector>

namespace headland::console {

/// Cuts the program with each of these settings; the summaries in the same order. May throw to end the search.
using CutAll = std::function<std::vector<cut::CutSummary>(const std::vector<cut::CutSettings>&)>;

/// One value that was really cut.
struct FitTrial {
    int tenths = 0;
    cut::CutSettings settings;
    cut::CutSummary summary;
    std::vector<Fault> faults; ///< empty: clean

    bool isClean() const noexcept { return faults.empty(); }
};

/// What the search found: at its end two neighbours are known, the one below and the one above what was looked for;
/// one of them is missing where the range ends.
struct FitResult {
    const FitQuantity* quantity = nullptr; ///< of fitQuantities()
    TenthRange range;
    std::vector<FitTrial> trials;            ///< in order of the value
    std::optional<std::size_t> lower, upper; ///< the neighbours, as places in `trials`

    const FitTrial* below() const noexcept { return lower ? &trials[*lower] : nullptr; }
    /// Never clean.
    const FitTrial* above() const noexcept { return upper ? &trials[*upper] : nullptr; }
    /// The answer, nullptr when no value that was cut is clean.
    const FitTrial* best() const noexcept { return lower && below()->isClean() ? below() : nullptr; }
};

/// Never more trials than this, whatever the side (the test tries every case).
inline constexpr int fitTrialsMax = 20;

/// Searches. `settings` must be valid and `range` not empty. What is promised:
/// - the answer was cut and is clean; a tenth above it was cut and is not clean, or is outside the range;
/// - no value that was cut above the answer is clean;
/// - when nothing is found, no value that was cut is clean, and either the least of the range is spoilt by what more of
///   the quantity only makes worse, or two neighbouring tenths are spoilt by opposite things, or the greatest of the
///   range by what only more of it would mend.
/// If cleanliness is monotone, this is the greatest clean value.
FitResult searchFit(const cut::CutSettings& settings, const FitQuantity& quantity, const TenthRange& range,
                    const CutAll& cutAll);

} // namespace headland::console
