// SPDX-License-Identifier: GPL-3.0-or-later
// A table of figures as plain text for a terminal: columns as wide as their widest cell, figures to the right, the last
// column to the left. UTF-8. Any thread.
#pragma once

#include <string>
#include <vector>

namespace headland::console {

/// The cells of one line; headings are lines like the others.
using TextRow = std::vector<std::string>;

/// The lines, each ended by a line break, without spaces at their ends. A line with fewer cells than others ends early.
std::string tableText(const std::vector<TextRow>& rows);

} // namespace headland::console
