// SPDX-License-Identifier: GPL-3.0-or-later
// A report of an invented side, for tests of what is made from reports.

#pragma once

#include "Console/CutReport.h"
#include "Tests/Log/Frames.h"

namespace headland::test {

/// The report of these frames.
inline console::CutReport reportOf(const cut::CutSettings& settings, const std::vector<cut::CutFrame>& frames,
                                   double length_s) {
    cut::SummaryBuilder summary(settings);
    cut::EstimateCheck estimates(length_s);
    for (const auto& frame : frames) {
        summary.frame(frame);
        estimates.frame(frame);
    }
    return {
        {"side \"A\".wav", "WAV, 24 bit", 48000, 2, static_cast<std::int64_t>(48000 * length_s), length_s},
        settings,
        summary.summary(),
        {},
        estimates,
        {}};
}

} // namespace headland::test
