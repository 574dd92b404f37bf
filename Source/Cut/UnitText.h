// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers with units, as a person writes and reads them: "102 µm", "250 lpi", "5.75 in", "16 mil/rev/s". A number alone is in
// the setting's own unit. Not for the audio thread (text is allocated).
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace headland::cut {

/// Reads a number, whose decimal point may be a comma, and, if there is one, its unit, and returns the value in `unit` (a unit
/// of the settings table). Lines per inch and per centimetre (lpi, lpcm) are read where `isPitch`. Nothing when it is no
/// number, not finite, or the unit cannot be turned into `unit`.
std::optional<double> valueFromText(std::string_view text, std::string_view unit, bool isPitch);

/// "102 µm": as few digits as show the value to one part in ten thousand of itself, and the unit.
std::string textWithUnit(double value, std::string_view unit);

/// The units that valueFromText() reads in place of `unit`: "µm, mm, mil, in, lpi, lpcm".
std::string readableUnits(std::string_view unit, bool isPitch);

} // namespace headland::cut
