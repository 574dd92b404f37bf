// SPDX-License-Identifier: GPL-3.0-or-later
// The one switch of units for everything a window shows: µm, mm and lines per cm, or mil, in and lines per inch.
// Figures are kept in µm and mm everywhere else. Any thread.
#pragma once

#include "Files/Text.h"

#include <string>
#include <string_view>

namespace headland::editor {

enum class Units { metric, inch };

/// "101.6 µm", "4.00 mil"
inline std::string shortLength(double um, Units units, int decimals = 1) {
    return units == Units::metric ? files::fixed(um, decimals) + " µm"
                                  : files::fixed(um / 25.4, decimals + 1) + " mil";
}

/// "292.6 mm", "11.520 in"
inline std::string longLength(double mm, Units units, int decimals = 1) {
    return units == Units::metric ? files::fixed(mm, decimals) + " mm"
                                  : files::fixed(mm / 25.4, decimals + 2) + " in";
}

} // namespace headland::editor
