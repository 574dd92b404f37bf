// SPDX-License-Identifier: GPL-3.0-or-later
// All that is known once a side has been tried at several preview delays: what text, JSON and picture are made from.
// Plain data.
#pragma once

#include "Console/DelayChoice.h"
#include "Cut/CutSettings.h"
#include "Cut/DelayList.h"
#include "Files/ProgramFacts.h"

#include <vector>

namespace headland::console {

struct TuneReport {
    files::ProgramFacts program;
    cut::CutSettings settings;      ///< as given; the trials differ from them in preview_s only
    std::vector<DelayTrial> trials; ///< by rising delay
    std::size_t asSet = 0;          ///< the trial at the delay that was given
    std::vector<cut::DelayLeftOut> leftOut;
    DelayChoice choice;

    const DelayTrial& best() const { return trials[choice.best]; }
};

} // namespace headland::console
