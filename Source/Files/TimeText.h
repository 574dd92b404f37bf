// SPDX-License-Identifier: GPL-3.0-or-later
// A place in the program as a person types it. Any thread but the audio thread.
#pragma once

#include <optional>
#include <string_view>

namespace headland::files {

/// No program is longer, nor does a lead-in begin earlier, s: a day, far beyond every disc. What a book says of another time
/// is no time.
inline constexpr double programMost_s = 86400;

/// `time_s` if it can be a place in a program, else NaN.
double inProgram(double time_s) noexcept;

/// "3:21.5", "201.5" or "-0:01" as seconds; nothing when it is no such time, or none that a program can have.
std::optional<double> timeFromText(std::string_view text);

} // namespace headland::files
