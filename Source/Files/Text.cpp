// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/Text.h"

#include <juce_core/juce_core.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace headland::files {

namespace {

constexpr double inch_um = 25400.0;
constexpr std::string_view replacement = "\xef\xbf\xbd"; // U+FFFD

/// `tenths` of a second as m:ss or m:ss.s.
std::string clock(long long tenths, bool withTenths) {
    const auto sign = tenths < 0 ? "-" : "";
    const auto size = tenths < 0 ? -tenths : tenths;
    const auto seconds = size / 10 % 60;
    auto text = sign + std::to_string(size / 600) + (seconds < 10 ? ":0" : ":") + std::to_string(seconds);
    return withTenths ? text + "." + std::to_string(size % 10) : text;
}

bool isControl(unsigned char c) noexcept {
    return c < 0x20 || c == 0x7f;
}

/// Bytes of the UTF-8 sequence that begins at `text`, 0 when it is not valid.
std::size_t sequenceLength(std::string_view text) {
    const auto lead = static_cast<unsigned char>(text.front());
    const std::size_t length = lead < 0x80 ? 1 : lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4;
    if (length > text.size())
        return 0;
    if (!juce::CharPointer_UTF8::isValidString(text.data(), static_cast<int>(length)))
        return 0;
    const auto character = *juce::CharPointer_UTF8(text.data());
    const auto isSurrogate = character >= 0xd800 && character <= 0xdfff;
    const auto isShortest = juce::CharPointer_UTF8::getBytesRequiredFor(character) == length;
    return isShortest && !isSurrogate ? length : 0;
}

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

std::string minutesSeconds(double time_s) {
    return std::isfinite(time_s) ? clock(std::llround(time_s) * 10, false) : "-";
}

std::string minutesTenths(double time_s) {
    return std::isfinite(time_s) ? clock(std::llround(time_s * 10), true) : "-";
}

std::string sideLength(double length_s) {
    return length_s < 60 ? minutesTenths(length_s) : minutesSeconds(length_s);
}

std::string linesPerInch(double pitch_um) {
    return pitch_um > 0 ? fixed(inch_um / pitch_um, 0) : "-";
}

std::string diameterText(double diameter_mm) {
    return diameter_mm > 0 ? fixed(diameter_mm, 1) + " mm" : "past the disc's middle";
}

std::string printable(std::string_view text) {
    std::string result;
    while (!text.empty()) {
        const auto length = sequenceLength(text);
        if (length == 0 || (length == 1 && isControl(static_cast<unsigned char>(text.front()))))
            result += replacement;
        else
            result += text.substr(0, length);
        text.remove_prefix(length == 0 ? 1 : length);
    }
    return result;
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

} // namespace headland::files
