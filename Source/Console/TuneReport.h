// SPDX-License-Identifier: GPL-3.0-or-later
// All that is known once a side has been tried at several preview delays: what text, JSON and picture are made from.
// Plain data.
#pragma once

#include "Console/DelayChoice.h"
#include "Console/SteadinessChoice.h"
#include "Cut/CutSettings.h"
#include "Cut/DelayList.h"
#include "Cut/SettingsTable.h"
#include "Files/ProgramFacts.h"

#include <vector>

namespace headland::console {

/// The side at the recommended delay and steadiness, with something about the machine better known.
struct BetterKnown {
    cut::CutSettings settings;
    const cut::Setting* setting; ///< which of them
    cut::CutSummary summary;
};

struct TuneReport {
    files::ProgramFacts program;
    cut::CutSettings settings;      ///< as given; the trials differ from them in preview_s only
    std::vector<DelayTrial> trials; ///< by rising delay
    std::size_t asSet = 0;          ///< the trial at the delay that was given
    std::vector<cut::DelayLeftOut> leftOut;
    DelayChoice choice;
    std::vector<SteadinessTrial>
        steadiness{}; ///< at the recommended delay, by rising value; none: the side can be cut at none
    std::size_t steadinessAsSet = 0, steadinessBest = 0;
    std::vector<BetterKnown> betterKnown{};

    const DelayTrial& best() const { return trials[choice.best]; }
    const SteadinessTrial& steadiest() const { return steadiness[steadinessBest]; }
};

} // namespace headland::console
