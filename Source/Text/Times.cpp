// SPDX-License-Identifier: GPL-3.0-or-later
#include "Text/Times.h"

#include "Text/Figures.h"
#include "Text/Number.h"

#include <charconv>
#include <cmath>
#include <limits>

namespace headland::text {

namespace {

constexpr double longest_s = 1e12; // far from where a whole number of tenths would overflow

bool isPrinted(double time_s) noexcept {
    return std::isfinite(time_s) && std::abs(time_s) < longest_s;
}

/// `tenths` of a second as m:ss or m:ss.s.
std::string clock(long long tenths, bool withTenths) {
    const auto sign = tenths < 0 ? "-" : "";
    const auto size = tenths < 0 ? -tenths : tenths;
    const auto seconds = size / 10 % 60;
    auto text = sign + std::to_string(size / 600) + (seconds < 10 ? ":0" : ":") + std::to_string(seconds);
    return withTenths ? text + "." + std::to_string(size % 10) : text;
}

/// The whole of `text` as a number without a sign.
std::optional<double> unsignedNumber(std::string_view text) {
    const auto number = leadingNumber(text);
    return number && number->rest.empty() && !text.starts_with('-') ? std::optional(number->value)
                                                                    : std::nullopt;
}

std::optional<int> wholeNumber(std::string_view text) {
    int value = 0;
    const auto* end = text.data() + text.size();
    const auto [rest, error] = std::from_chars(text.data(), end, value);
    return error == std::errc() && rest == end && value >= 0 ? std::optional(value) : std::nullopt;
}

std::optional<double> placed(double time_s) {
    return std::isnan(inProgram(time_s)) ? std::nullopt : std::optional(time_s);
}

} // namespace

double inProgram(double time_s) noexcept {
    return std::abs(time_s) <= programMost_s ? time_s : std::numeric_limits<double>::quiet_NaN();
}

std::string minutesSeconds(double time_s) {
    return isPrinted(time_s) ? clock(std::llround(time_s) * 10, false) : "-";
}

std::string minutesTenths(double time_s) {
    return isPrinted(time_s) ? clock(std::llround(time_s * 10), true) : "-";
}

std::string seconds(double time_s) {
    return fixed(time_s, 3) + " s";
}

std::string sideLength(double length_s) {
    return length_s < 60 ? minutesTenths(length_s) : minutesSeconds(length_s);
}

std::optional<double> timeFromText(std::string_view text) {
    constexpr double minute_s = 60;
    const auto sign = text.starts_with('-') ? -1.0 : 1.0;
    if (sign < 0)
        text.remove_prefix(1);
    const auto colon = text.find(':');
    const auto seconds = unsignedNumber(colon == text.npos ? text : text.substr(colon + 1));
    if (!seconds)
        return std::nullopt;
    if (colon == text.npos)
        return placed(sign * *seconds);
    const auto minutes = wholeNumber(text.substr(0, colon));
    if (!minutes || text.starts_with('-') || *seconds >= minute_s)
        return std::nullopt;
    return placed(sign * (minute_s * *minutes + *seconds));
}

} // namespace headland::text
