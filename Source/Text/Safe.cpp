// SPDX-License-Identifier: GPL-3.0-or-later
#include "Text/Safe.h"

#include <utf8.h>

#include <algorithm>
#include <iterator>

namespace headland::text {

namespace {

constexpr char32_t replacement = 0xfffd;

struct Range {
    char32_t first, last;
};

/// General categories Cc, Zl and Zp, property Bidi_Control, and U+FEFF (Unicode Character Database 15).
constexpr Range unsafe[] = {
    {0x0000, 0x001f}, {0x007f, 0x009f}, {0x061c, 0x061c}, {0x200e, 0x200f},
    {0x2028, 0x202e}, {0x2066, 0x2069}, {0xfeff, 0xfeff},
};

/// Unicode 15, section 23.7; U+FFFE and U+FFFF are no characters of XML 1.0 either.
bool isNoncharacter(char32_t c) noexcept {
    return (c >= 0xfdd0 && c <= 0xfdef) || (c & 0xfffe) == 0xfffe;
}

bool isSafe(char32_t c) noexcept {
    return !isNoncharacter(c) && std::none_of(std::begin(unsafe), std::end(unsafe), [c](const Range& range) {
        return c >= range.first && c <= range.last;
    });
}

} // namespace

std::string printable(std::string_view text) {
    std::string valid, result;
    utf8::replace_invalid(text.begin(), text.end(), std::back_inserter(valid), replacement);
    for (auto at = valid.cbegin(); at != valid.cend();) {
        const char32_t c = utf8::next(at, valid.cend());
        utf8::append(isSafe(c) ? c : replacement, std::back_inserter(result));
    }
    return result;
}

std::string printableLines(const std::vector<std::string>& texts) {
    std::string lines;
    for (const auto& text : texts)
        lines += (lines.empty() ? "" : "\n") + printable(text);
    return lines;
}

} // namespace headland::text
