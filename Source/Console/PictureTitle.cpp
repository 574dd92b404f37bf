// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/PictureTitle.h"

#include <vector>

namespace headland::console {

namespace {

constexpr double title_px = 24;
constexpr double subtitle_px = 16;
constexpr double firstBaseline_px = 40;
constexpr double lineHeight_px = 20;
constexpr double character_px = 10.4; ///< of the result, in bold, on the average

/// Breaks text at spaces into lines of at most `characters`, as far as there are spaces.
std::vector<std::string> lines(const std::string& text, std::size_t characters) {
    std::vector<std::string> result;
    std::size_t start = 0;
    while (text.size() - start > characters) {
        const auto space = text.rfind(' ', start + characters);
        if (space == std::string::npos || space <= start)
            break;
        result.push_back(text.substr(start, space - start));
        start = space + 1;
    }
    result.push_back(text.substr(start));
    return result;
}

} // namespace

std::string shortened(const std::string& text, double size_px, double room_px) {
    constexpr auto boldWider = 1.15;
    const auto fits = [&](const std::string& any) {
        return boldWider * textWidth_px(any, size_px) <= room_px;
    };
    if (fits(text))
        return text;
    const auto whole = juce::String::fromUTF8(text.c_str());
    const auto ends = [&](int half) {
        return (whole.substring(0, half) + juce::String::fromUTF8("…") + whole.getLastCharacters(half))
            .toStdString();
    };
    // Halved, not counted down: a book may have a name of a million letters.
    auto room = 0, tooMuch = whole.length() / 2 + 1;
    while (tooMuch - room > 1) {
        const auto half = room + (tooMuch - room) / 2;
        (fits(ends(half)) ? room : tooMuch) = half;
    }
    return ends(room);
}

double drawTitle(SvgDrawing& drawing, double left_px, double right_px, const PictureTitle& title) {
    auto baseline = firstBaseline_px;
    drawing.text(left_px, baseline, shortened(title.fileName, title_px, right_px - left_px),
                 {.size_px = title_px, .bold = true});
    baseline += 26;
    drawing.text(left_px, baseline, title.settings, {.size_px = subtitle_px});
    baseline += 26 - lineHeight_px;
    const auto characters = static_cast<std::size_t>((right_px - left_px) / character_px);
    for (const auto& line : lines(title.result, characters)) {
        baseline += lineHeight_px;
        drawing.text(left_px, baseline, line, {.size_px = subtitle_px, .bold = true});
    }
    return baseline;
}

} // namespace headland::console
