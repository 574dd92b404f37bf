// SPDX-License-Identifier: GPL-3.0-or-later
// The one switch of units for everything a window shows: µm, mm and lines per cm, or mil, in and lines per inch.
// Figures are kept in µm and mm everywhere else. Any thread.
#pragma once

#include "Files/Text.h"

#include <string>
#include <string_view>

namespace headland::editor {

enum class Units { metric, inch };

/// µm in the unit that short lengths are shown in.
constexpr double unitOf(Units units) noexcept {
    return units == Units::inch ? 25.4 : 1.0;
}

// stand-ins until merged
inline std::string shortLength(double um, Units, int decimals = 1) { return files::fixed(um, decimals) + " µm"; }
inline std::string longLength(double mm, Units, int decimals = 1) { return files::fixed(mm, decimals) + " mm"; }

} // namespace headland::editor
