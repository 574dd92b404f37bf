// SPDX-License-Identifier: GPL-3.0-or-later
// Searches of made-up sides, clean up to a value and spoilt in a chosen way above it, for tests of what is made of them.

#pragma once

#include "Console/FitReport.h"

namespace headland::test {

/// Places in fitQuantities().
inline constexpr std::size_t level = 0, land = 1, depth = 2;

inline cut::CutSummary clean() {
    cut::CutSummary summary;
    summary.endDiameter_mm = 270.25;
    summary.pitchMean_um = 85;
    summary.landLeast = {11.9, 30, 140, true};
    summary.widthLeast = {31, 30, 140, true};
    summary.slopeGreatest = {0.8, 30, 140, true};
    summary.curvatureLeast = {25, 30, 140, true};
    return summary;
}

inline void flag(cut::CutSummary& summary, cut::Flag flag) {
    summary.flaggedSectors[cut::indexOf(flag)] = 1;
    summary.flaggedPassages[cut::indexOf(flag)] = 1;
}

inline cut::CutSummary steep() {
    auto summary = clean();
    summary.slopeGreatest = {1.0123, 216, 134.45, true};
    flag(summary, cut::Flag::steep);
    return summary;
}

inline cut::CutSummary narrow() {
    auto summary = clean();
    summary.widthLeast = {21, 61.5, 140, true};
    flag(summary, cut::Flag::narrow);
    return summary;
}

inline cut::CutSummary lifted() {
    auto summary = clean();
    summary.widthLeast = {-4, 61.5, 140, true};
    flag(summary, cut::Flag::narrow);
    flag(summary, cut::Flag::lifted);
    return summary;
}

inline cut::CutSummary thin() {
    auto summary = clean();
    summary.landLeast = {-3.26, 12, 145, true};
    flag(summary, cut::Flag::thinLand);
    flag(summary, cut::Flag::overcut);
    return summary;
}

inline cut::CutSummary tooLong() {
    auto summary = clean();
    summary.fits = false;
    summary.endDiameter_mm = 120;
    summary.fitLength_s = 1234;
    return summary;
}

/// The report on a side that is `low` up to `last` tenths and `high` above it.
inline console::FitReport fitReportOf(std::size_t quantity, int last, const cut::CutSummary& low,
                                      const cut::CutSummary& high) {
    const cut::CutSettings settings;
    const auto& varied = console::fitQuantities()[quantity];
    const auto cutAll = [&](const std::vector<cut::CutSettings>& trials) {
        std::vector<cut::CutSummary> summaries;
        for (const auto& trial : trials)
            summaries.push_back(console::tenthsOf(trial, varied) <= last ? low : high);
        return summaries;
    };
    return {{"side.wav", "WAV, 24 bit", 48000, 2, 4800000, 100},
            settings,
            console::searchFit(settings, varied, console::validTenths(settings, varied, 48000), cutAll)};
}

} // namespace headland::test
