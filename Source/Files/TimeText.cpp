// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/TimeText.h"

#include <charconv>
#include <cmath>
#include <limits>

namespace headland::files {

namespace {

/// The whole of `text` as a number that is not negative.
template <typename Number>
std::optional<Number> wholeNumber(std::string_view text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    const auto isWhole = error == std::errc() && end == text.data() + text.size() && !text.starts_with('-');
    return isWhole ? std::optional(value) : std::nullopt;
}

std::optional<double> placed(double time_s) {
    return std::isnan(inProgram(time_s)) ? std::nullopt : std::optional(time_s);
}

} // namespace

double inProgram(double time_s) noexcept {
    return std::abs(time_s) <= programMost_s ? time_s : std::numeric_limits<double>::quiet_NaN();
}

std::optional<double> timeFromText(std::string_view text) {
    constexpr double minute_s = 60;
    const auto sign = text.starts_with('-') ? -1.0 : 1.0;
    if (sign < 0)
        text.remove_prefix(1);
    const auto colon = text.find(':');
    const auto seconds = wholeNumber<double>(colon == text.npos ? text : text.substr(colon + 1));
    if (!seconds || !std::isfinite(*seconds))
        return std::nullopt;
    if (colon == text.npos)
        return placed(sign * *seconds);
    const auto minutes = wholeNumber<int>(text.substr(0, colon));
    if (!minutes || *seconds >= minute_s)
        return std::nullopt;
    return placed(sign * (minute_s * *minutes + *seconds));
}

} // namespace headland::files
