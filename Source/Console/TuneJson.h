// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON report of `headland tune`: settings, a figure for every delay tried, the recommendation. Keys and meaning are
// in docs/tune.md. UTF-8. Not for the audio thread.
#pragma once

#include "Console/TuneReport.h"

#include <string>

namespace headland::console {

inline constexpr int tuneJsonVersion = 1; ///< raised when a key changes its meaning

/// The whole file.
std::string tuneJson(const TuneReport& report);

} // namespace headland::console
