// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of `headland tune`: disc used, least land and what was known too late against the preview delay, in seconds,
// turns and tape path. One thread.
#pragma once

#include "Console/TrialChart.h"
#include "Console/TuneReport.h"

namespace headland::console {

/// What is to be drawn.
TrialChart tuneChart(const TuneReport& report);

} // namespace headland::console
