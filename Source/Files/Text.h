// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers and times as a person reads them, and text that is safe to hand to XML, JSON and a terminal.
// Never depends on the locale: `.` is the decimal point. Any thread.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace headland::files {

/// `value` with `decimals` places after the point; "-" when it is not finite. No "-0".
std::string fixed(double value, int decimals);

/// `value` in at most six significant figures, no trailing zeros; "-" when it is not finite.
std::string plain(double value);

/// A length of time or a place in the program, `time_s` in seconds, as m:ss rounded to the second, e.g. "21:07".
std::string minutesSeconds(double time_s);

/// A place in the program, `time_s` in seconds, as m:ss.s, e.g. "3:12.4".
std::string minutesTenths(double time_s);

/// The length of a side as m:ss, and of one under a minute as m:ss.s.
std::string sideLength(double length_s);

/// Pitch of `pitch_um` µm per revolution as lines per inch; "-" when there is no pitch.
std::string linesPerInch(double pitch_um);

/// A diameter in mm with its unit; a simulated side that is far too long can end "past the disc's middle".
std::string diameterText(double diameter_mm);

/// The same text as valid UTF-8 without control characters; what is neither becomes U+FFFD.
std::string printable(std::string_view text);

/// "1 passage", "2 passages": the count with its noun, `s` added where it belongs.
std::string counted(long long count, std::string_view noun);

/// Several sentences as one text, a space between them.
std::string joined(const std::vector<std::string>& sentences);

/// Columns that text in UTF-8 takes on a terminal: characters, not bytes; µ and ² take two bytes.
std::size_t columnsOf(std::string_view text);

/// `text` filled up with spaces to `columns`; one space follows it at least.
std::string padded(std::string_view text, std::size_t columns);

} // namespace headland::files
