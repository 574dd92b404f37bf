// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers, diameters and counted nouns as a person reads them, and the columns they take. Never depends on the locale: `.` is
// the decimal point. Any thread but the audio thread.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace headland::text {

/// `value` with `decimals` places after the point; "-" when it is not finite. No "-0".
std::string fixed(double value, int decimals);

/// `value` in at most six significant figures, no trailing zeros; "-" when it is not finite.
std::string plain(double value);

/// Pitch of `pitch_um` µm per revolution as lines per inch; "-" when there is no pitch.
std::string linesPerInch(double pitch_um);

/// A diameter in mm with its unit; a simulated side that is far too long can end "past the disc's middle".
std::string diameterText(double diameter_mm);

/// "1 passage", "2 passages": the count with its noun, `s` added where it belongs.
std::string counted(long long count, std::string_view noun);

/// Several sentences as one text, a space between them.
std::string joined(const std::vector<std::string>& sentences);

/// Columns that text in UTF-8 takes on a terminal: characters, not bytes; µ and ² take two bytes.
std::size_t columnsOf(std::string_view text);

/// `text` filled up with spaces to `columns`; one space follows it at least.
std::string padded(std::string_view text, std::size_t columns);

} // namespace headland::text
