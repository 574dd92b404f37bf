// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/ProfileScale.h"

#include "Groove/RecordingCharacteristic.h"

namespace headland::cut {

namespace {

double velocity(const plan::ProfileTerms& t) {
    return groove::fullScaleVelocity_um_s(t.reference_velocity_cm_s, t.alignment_dbfs, t.disc_level_db);
}

} // namespace

plan::ProfileTerms profileTerms(const CutSettings& s) {
    return {s.turn_s(), s.reference_velocity_cm_s, s.alignment_dbfs, s.disc_level_db, s.highpass_hz};
}

std::optional<double> profileScale(const plan::ProfileTerms& made, const CutSettings& settings) {
    if (made.highpass_hz != settings.highpass_hz)
        return std::nullopt;
    return velocity(profileTerms(settings)) / velocity(made);
}

} // namespace headland::cut
