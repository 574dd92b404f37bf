// SPDX-License-Identifier: GPL-3.0-or-later
// All that is known of a cut once it is done, in one place: what text, JSON and picture are made from.
#pragma once

#include "Console/ExitCode.h"
#include "Console/LevelSearch.h"
#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"
#include "Cut/EstimateCheck.h"
#include "Files/CutRun.h"
#include "Files/ProgramFacts.h"

#include <optional>

namespace headland::console {

struct CutReport {
    files::ProgramFacts program;
    cut::CutSettings settings;
    cut::CutSummary summary;
    files::CutOutcome outcome;
    cut::EstimateCheck estimates;
    std::optional<LevelSearchResult>
        level; ///< only of a side that does not fit, and only if it was searched for

    ExitCode exitCode() const noexcept {
        return summary.verdict() == cut::Verdict::canBeCut ? ExitCode::done : ExitCode::cannotBeCut;
    }
    /// Radius by which the program goes beyond the innermost allowed, mm; 0 when it fits.
    double tooLong_mm() const noexcept { return summary.fits ? 0 : -summary.room_mm(settings); }
    /// Program time that does not fit, s; 0 when it does.
    double tooLong_s() const noexcept {
        return summary.fits ? 0 : summary.sideLength_s - summary.fitLength_s;
    }
};

} // namespace headland::console
