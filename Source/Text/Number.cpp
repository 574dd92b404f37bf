// SPDX-License-Identifier: GPL-3.0-or-later
#include "Text/Number.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <string>
#include <utility>

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

/// Takes digits off the front.
std::optional<int> takeWhole(std::string_view& text) {
    int value = 0;
    const auto* end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, value);
    if (error != std::errc{} || value < 0 || text.starts_with('-'))
        return std::nullopt;
    text = {rest, static_cast<std::size_t>(end - rest)};
    return value;
}

/// "33 1/3", "-2 1/2" or "2/3".
std::optional<LeadingNumber> leadingFraction(std::string_view text) {
    const auto sign = text.starts_with('-') ? -1.0 : 1.0;
    text.remove_prefix(sign < 0 ? 1 : 0);
    auto above = takeWhole(text), whole = std::optional(0);
    if (above && text.starts_with(' ')) {
        text.remove_prefix(1);
        whole = std::exchange(above, takeWhole(text));
    }
    if (!above || !text.starts_with('/'))
        return std::nullopt;
    text.remove_prefix(1);
    const auto below = takeWhole(text);
    if (!below || *below == 0)
        return std::nullopt;
    const double under = *below; // 100 / 3 rather than 33 + 1 / 3: rounded once
    return LeadingNumber{sign * (*whole * under + *above) / under, text};
}

} // namespace

std::optional<LeadingNumber> leadingNumber(std::string_view text) {
    if (const auto fraction = leadingFraction(text))
        return fraction;
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
