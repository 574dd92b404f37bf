// SPDX-License-Identifier: GPL-3.0-or-later
// The one switch of units for everything a window shows: µm, mm and lines per cm, or mil, in and lines per inch.
// Figures are kept in µm and mm everywhere else. Any thread.
#pragma once

#include <string>
#include <string_view>

namespace headland::editor {

enum class Units { metric, inch };

} // namespace headland::editor
