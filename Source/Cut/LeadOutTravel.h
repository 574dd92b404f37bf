// SPDX-License-Identifier: GPL-3.0-or-later
// How much disc a lead-out takes: what decides where it must begin at the latest. Pure functions; any thread.
#pragma once

#include "Cut/CutSettings.h"

namespace headland::cut {

/// The pitch a lead-out is never finer than where there is room: the finest the standard allows, or finer if set so. µm.
double leadOutFinest_um(const CutSettings& settings) noexcept;

/// Radius that one turn of that lead-out takes, its ramps from the greatest pitch and down to the finishing groove included,
/// mm. Settings in their ranges.
double leadOutTravel_mm(const CutSettings& settings) noexcept;

/// Radius that is passed while the pitch closes from here to nothing, mm; the command moves at the spiral's slew, the
/// carriage behind it.
double closingTravel_mm(const CutSettings& settings, double command_um, double pitch_um) noexcept;

} // namespace headland::cut
