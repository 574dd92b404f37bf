// SPDX-License-Identifier: GPL-3.0-or-later
// Times in the program and lengths of time as a person reads and writes them. A time before the program has one minus in
// front: "-0:01.5". What is not finite, or longer than any disc by far, is "-". Any thread but the audio thread.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace headland::text {

/// No program is longer, nor does a lead-in begin earlier, s: a day, far beyond every disc. What a book says of another time
/// is no time.
inline constexpr double programMost_s = 86400;

/// `time_s` if it can be a place in a program, else NaN.
double inProgram(double time_s) noexcept;

/// `time_s` in seconds as m:ss rounded to the second, e.g. "21:07".
std::string minutesSeconds(double time_s);

/// `time_s` in seconds as m:ss.s, e.g. "3:12.4".
std::string minutesTenths(double time_s);

/// `time_s` in seconds and thousandths, e.g. "192.400 s".
std::string seconds(double time_s);

/// The length of a side as m:ss, and of one under a minute as m:ss.s.
std::string sideLength(double length_s);

/// "3:21.5", "3:21,5", "201.5" or "-0:01" as seconds; nothing when it is no such time, or none
/// that a program can have.
std::optional<double> timeFromText(std::string_view text);

} // namespace headland::text
