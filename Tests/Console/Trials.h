// SPDX-License-Identifier: GPL-3.0-or-later
// Made-up sides at several preview delays, for tests of what is made of them.

#pragma once

#include "Console/TuneReport.h"

namespace headland::test {

/// A side with all its land that uses this much disc at this delay, a turn being 1.8 s.
inline console::DelayTrial keptTrial(double turns, double used_mm) {
    console::DelayTrial trial{1.8 * turns, turns, {}};
    trial.summary.used_mm = used_mm;
    trial.summary.endDiameter_mm = 292.6 - 2 * used_mm;
    trial.summary.landLeast = {12.0, 100.0, 140.0, true};
    return trial;
}

inline void flag(console::DelayTrial& trial, cut::Flag which) {
    trial.summary.flaggedSectors[cut::indexOf(which)] = 5;
    trial.summary.flaggedPassages[cut::indexOf(which)] = 2;
}

/// The same with a demand known too late: `missing_um` of the 12 µm of land that are set go, and an overcut with them
/// when that is more than there is.
inline console::DelayTrial shortTrial(double turns, double used_mm, double missing_um) {
    auto trial = keptTrial(turns, used_mm);
    trial.summary.shortfallGreatest = {missing_um, 95.0, 141.0, true};
    trial.summary.landLeast.value = 12 - missing_um;
    flag(trial, cut::Flag::previewShort);
    flag(trial, cut::Flag::thinLand);
    if (missing_um > 12)
        flag(trial, cut::Flag::overcut);
    return trial;
}

/// A side with all its land that goes beyond the disc.
inline console::DelayTrial longTrial(double turns, double used_mm) {
    auto trial = keptTrial(turns, used_mm);
    trial.summary.fits = false;
    return trial;
}

/// The report of these, chosen from by the rule, the last one being the delay that was set.
inline console::TuneReport tuneReportOf(std::vector<console::DelayTrial> trials) {
    console::TuneReport report;
    report.program = {"side \"A\".wav", "WAV, 24 bit", 48000, 2, 48000 * 240, 240};
    report.trials = std::move(trials);
    report.asSet = report.trials.size() - 1;
    report.settings.preview_s = report.trials.back().delay_s;
    report.choice = console::chooseDelay(report.trials, report.settings.land_min_um);
    return report;
}

} // namespace headland::test
