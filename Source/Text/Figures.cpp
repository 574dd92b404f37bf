// SPDX-License-Identifier: GPL-3.0-or-later
#include "Text/Figures.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace headland::text {

namespace {

constexpr double inch_um = 25400.0;

} // namespace

std::string fixed(double value, int decimals) {
    if (!std::isfinite(value))
        return "-";
    std::array<char, 400> text{}; // the greatest double has 309 digits before the point
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals);
    std::string result(text.data(), end);
    const auto isZero = result.find_first_not_of("-0.") == std::string::npos;
    return isZero && result.front() == '-' ? result.substr(1) : result;
}

std::string plain(double value) {
    if (!std::isfinite(value))
        return "-";
    std::array<char, 40> text{};
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::general, 6);
    return {text.data(), end};
}

std::string linesPerInch(double pitch_um) {
    return pitch_um > 0 ? fixed(inch_um / pitch_um, 0) : "-";
}

std::string diameterText(double diameter_mm) {
    return diameter_mm > 0 ? fixed(diameter_mm, 1) + " mm" : "past the disc's middle";
}

std::string counted(long long count, std::string_view noun) {
    return std::to_string(count) + " " + std::string(noun) + (count == 1 ? "" : "s");
}

std::string joined(const std::vector<std::string>& sentences) {
    std::string all;
    for (const auto& sentence : sentences)
        all += (all.empty() ? "" : " ") + sentence;
    return all;
}

std::size_t columnsOf(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; }));
}

std::string padded(std::string_view text, std::size_t columns) {
    const auto used = columnsOf(text);
    return std::string(text) + std::string(used < columns ? columns - used : 1, ' ');
}

} // namespace headland::text
