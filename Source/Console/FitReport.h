// SPDX-License-Identifier: GPL-3.0-or-later
// All that is known once a search is done, in one place: what its text, JSON and picture are made from. Plain data.
#pragma once

#include "Console/ExitCode.h"
#include "Console/FitSearch.h"
#include "Files/ProgramFacts.h"

namespace headland::console {

struct FitReport {
    files::ProgramFacts program;
    cut::CutSettings settings; ///< as given; the trials differ from them in the varied quantity only
    FitResult result;

    ExitCode exitCode() const noexcept {
        return result.best() != nullptr ? ExitCode::done : ExitCode::cannotBeCut;
    }
};

} // namespace headland::console
