// SPDX-License-Identifier: GPL-3.0-or-later
// Where the edges of a groove that is to be looked at come from: the program's file, cut anew with what the book knows, or
// the edges the book has kept around a flagged place. Main thread.
#pragma once

#include "Console/SvgDrawing.h"
#include "Log/BookReader.h"

#include <functional>
#include <optional>
#include <string>

namespace headland::console {

/// Draws the turns around a program time of a cut. `program`: the file, if it is not where it was. `between` is called now
/// and then with how far the work is, and may throw. Throws InputError when there is neither.
SvgDrawing drawGroove(log::BookReader& book, std::int64_t cut, const log::LoggedCut& logged,
                      const std::optional<std::string>& program, double time_s,
                      const std::function<void(double fraction)>& between);

} // namespace headland::console
