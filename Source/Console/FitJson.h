// SPDX-License-Identifier: GPL-3.0-or-later
// The report of a search as JSON; docs/fit-report.md has its keys. UTF-8. One thread.
#pragma once

#include "Console/FitReport.h"

#include <string>

namespace headland::console {

/// Version of the format, as in its first member.
inline constexpr int fitJsonVersion = 1;

/// The whole file.
std::string fitJsonText(const FitReport& report);

} // namespace headland::console
