// SPDX-License-Identifier: GPL-3.0-or-later
// The filters from program to wall displacement that a cut with these settings has.
#pragma once

#include "Cut/CutSettings.h"
#include "Groove/RecordingCharacteristic.h"
#include "Groove/WallFilter.h"

namespace headland::cut {

/// `settings` must be valid for the rate.
inline groove::WallFilterDesign wallDesign(const CutSettings& s, double sampleRate_hz) {
    return groove::designWallFilter(
        sampleRate_hz, s.highpass_hz,
        groove::fullScaleVelocity_um_s(s.reference_velocity_cm_s, s.alignment_dbfs, s.disc_level_db));
}

} // namespace headland::cut
