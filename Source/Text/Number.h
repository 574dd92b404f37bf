// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers as a person writes them: "12.5" and "12,5" are the same, and so are "33 1/2" and "33.5". Never depends on the locale. Any thread but the audio
// thread.
#pragma once

#include <optional>
#include <string_view>

namespace headland::text {

/// A number and what stands behind it.
struct LeadingNumber {
    double value;
    std::string_view rest;
};

/// The number that `text` begins with, whose decimal point may be a comma; "33 1/3" and "2/3" are read as well. Nothing when there is none, when it is not finite,
/// or when it has two points or commas ("1,234.5", "1,2,3"), which could mean more than one number.
std::optional<LeadingNumber> leadingNumber(std::string_view text);

} // namespace headland::text
