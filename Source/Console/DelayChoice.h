// SPDX-License-Identifier: GPL-3.0-or-later
// Which of the preview delays tried is worth having. First what the groove needs: the delays at which the side comes out
// best (all land kept, or cut with the least land missing). Of these the one with the least price, disc used and delay added up
// at a fixed rate; docs/tune.md derives it. Any thread.
#pragma once

#include "Cut/CutSummary.h"

#include <optional>
#include <vector>

namespace headland::console {

/// How the groove of a trial comes out.
inline bool canBeCut(const cut::CutSummary& summary) noexcept {
    return summary.verdict() == cut::Verdict::canBeCut;
}
inline std::int64_t sectorsUnder(const cut::CutSummary& summary, cut::Flag flag) noexcept {
    return summary.flaggedSectors[cut::indexOf(flag)];
}
/// Land below what is set, measured or announced, µm; 0 when neither was flagged.
double missingLand_um(const cut::CutSummary& summary, double landSet_um) noexcept;
/// Can be cut, and no land is missing, nor was any announced to be.
bool keepsLand(const cut::CutSummary& summary) noexcept;

/// The side at one delay.
struct DelayTrial {
    double delay_s = 0;
    double turns = 0; ///< the same in revolutions
    cut::CutSummary summary;

    bool canBeCut() const noexcept { return console::canBeCut(summary); }
    /// Sectors whose demand was known too late.
    bool isShort() const noexcept { return sectorsUnder(cut::Flag::previewShort) > 0; }
    double missingLand_um(double landSet_um) const noexcept {
        return console::missingLand_um(summary, landSet_um);
    }
    bool keepsLand() const noexcept { return console::keepsLand(summary); }

    std::int64_t sectorsUnder(cut::Flag flag) const noexcept { return console::sectorsUnder(summary, flag); }
};

/// What one turn more of delay must save to be worth it, as a share of the disc used.
inline constexpr double worthOfATurn = 0.01;

/// Land missing is the same at two delays when it differs by no more than this, µm.
inline constexpr double sameLand_um = cut::planTolerance_um;

/// What the delays tried come to.
enum class DelayOutcome {
    landKept,    ///< at the chosen delay the side can be cut and no land is missing
    stillShort,  ///< land is missing at every delay, least at the longest, where it still grows less
    latheLimits, ///< land is missing at every delay, and a longer one gives none back
    discLimits,  ///< no land is missing, but the side fits at no delay
    stylusLifts, ///< no land is missing, but the stylus lifts at every delay
    tooDeep,     ///< no land is missing, but the groove is too deep at every delay
};

struct DelayChoice {
    std::size_t best = 0; ///< index of the trial chosen
    DelayOutcome outcome = DelayOutcome::landKept;
    std::vector<std::size_t> candidates;   ///< the trials that come out best, `best` among them
    std::optional<std::size_t> nextLonger; ///< the trial after it
};

/// Chooses among trials in order of rising delay, at least one.
DelayChoice chooseDelay(const std::vector<DelayTrial>& trials, double landSet_um);

} // namespace headland::console
