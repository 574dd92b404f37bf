// SPDX-License-Identifier: GPL-3.0-or-later
#include "Text/Number.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>

namespace headland::text {

namespace {

/// With a point for the comma; the same length.
std::optional<std::string> withPoint(std::string_view text) {
    std::string copy(text);
    const auto first = copy.find_first_of(".,");
    if (first == copy.npos || first != copy.find_last_of(".,"))
        return first == copy.npos ? std::optional(copy) : std::nullopt;
    const auto isComma = copy[first] == ',';
    copy[first] = '.';
    const auto digitFollows = first + 1 < copy.size() && copy[first + 1] >= '0' && copy[first + 1] <= '9';
    return isComma && !digitFollows ? std::nullopt : std::optional(copy);
}

} // namespace

std::optional<LeadingNumber> leadingNumber(std::string_view text) {
    const auto copy = withPoint(text);
    double value = 0;
    if (!copy)
        return std::nullopt;
    const auto [end, error] = std::from_chars(copy->data(), copy->data() + copy->size(), value);
    if (error != std::errc{} || !std::isfinite(value))
        return std::nullopt;
    return LeadingNumber{value, text.substr(static_cast<std::size_t>(end - copy->data()))};
}

} // namespace headland::text
