// SPDX-License-Identifier: GPL-3.0-or-later
// What the planners have to be told of a cut's settings. Any thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Plan/PlanSetup.h"

#include <cmath>
#include <cstdint>

namespace headland::cut {

/// Samples between preview head and stylus.
inline std::int64_t previewLength_samples(const CutSettings& settings, double sampleRate_hz) {
    return std::llround(settings.preview_s * sampleRate_hz);
}

/// `isRehearsed`: there is a profile of the program, so that plans may look further than the preview.
plan::PlanSetup planSetup(const CutSettings& settings, double sampleRate_hz, bool isRehearsed = false);

} // namespace headland::cut
