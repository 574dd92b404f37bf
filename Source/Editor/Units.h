// SPDX-License-Identifier: GPL-3.0-or-later
// The one switch of units for everything a window shows: µm, mm and lines per cm, or mil, in and lines per inch.
// Figures are kept in µm and mm everywhere else; an inch is 25.4 mm by definition (international yard and pound
// agreement, 1959), a mil its thousandth. What is not finite is "-". Any thread (text is allocated).
#pragma once

#include <string>
#include <string_view>

namespace headland::editor {

enum class Units { metric, inch };

/// µm in the unit that short lengths are shown in.
constexpr double unitOf(Units units) noexcept {
    return units == Units::inch ? 25.4 : 1.0;
}

/// "101.6 µm" or "4.00 mil": a length in µm with so many decimals, in mil with one more.
std::string shortLength(double length_um, Units units, int decimals = 1);

/// "292.6 mm" or "11.520 in": a length in mm with so many decimals, in inches with two more.
std::string longLength(double length_mm, Units units, int decimals = 1);

/// "98.4 lines per cm" or "250 lines per inch" for a pitch in µm; "standing still" where it would be shown as none.
std::string lines(double pitch_um, Units units);

/// A unit of the settings table as it is shown: its name, and how much of the table's unit one of it is.
struct ShownUnit {
    std::string_view name;
    double size;
};
ShownUnit shownUnit(std::string_view unit, Units units) noexcept;

/// A value in a unit of the settings table, as it is typed and shown: "12 µm" or "0.47244 mil".
std::string shownValue(double value, std::string_view unit, Units units);

/// A text made elsewhere, with every figure in it that has a unit of length, speed or area in the units shown:
/// "152.4 mm ± 3.6 mm", "0 to 200 µm", "between 0 and 200 µm", "250 lines per inch". What stands in quotes or is a path is
/// a name, and stays; so do figures in mil and inches, which a standard's text may give.
std::string inUnits(const std::string& text, Units units);

} // namespace headland::editor
