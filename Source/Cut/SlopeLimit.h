// SPDX-License-Identifier: GPL-3.0-or-later
// The slope beyond which the cutting stylus' back touches the wall. Any thread.
#pragma once

#include "Cut/CutSettings.h"

#include <cmath>
#include <numbers>

namespace headland::cut {

/// Tangent of the back angle in plan; 1 at 45 degrees.
inline double slopeLimit(const CutSettings& settings) noexcept {
    return std::tan(settings.back_angle_deg * std::numbers::pi / 180);
}

} // namespace headland::cut
