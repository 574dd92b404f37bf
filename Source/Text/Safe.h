// SPDX-License-Identifier: GPL-3.0-or-later
// Text from outside (file names, presets, books, what a person gave) made safe for a terminal, a label, JSON, XML and CSV:
// everything that prints a text it did not make itself passes it through here. Any thread but the audio thread.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace headland::text {

/// The same text as valid UTF-8 on one line, that neither steers a terminal nor turns the order of what stands around it.
/// What is no UTF-8, control characters (C0 with the line feed, DEL, C1), line and paragraph separators, what directs the
/// order of bidirectional text, the byte order mark and noncharacters each become U+FFFD.
std::string printable(std::string_view text);

/// Each of these made printable(), on a line of its own; no line end behind the last.
std::string printableLines(const std::vector<std::string>& texts);

} // namespace headland::text
