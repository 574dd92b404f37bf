// SPDX-License-Identifier: GPL-3.0-or-later
// What tests ask of a drawing: its elements and words, and that no word covers another or leaves the sheet.

#pragma once

#include "Console/Picture.h"

#include <catch2/catch.hpp>
#include <juce_gui_basics/juce_gui_basics.h>

#include <set>
#include <string>
#include <vector>

namespace headland::test {

/// The elements with this tag.
inline std::vector<juce::XmlElement*> elements(const console::SvgDrawing& drawing, const char* tag) {
    std::vector<juce::XmlElement*> found;
    for (auto* element : drawing.xml().getChildWithTagNameIterator(tag))
        found.push_back(element);
    return found;
}

/// Every text of the drawing.
inline std::set<std::string> words(const console::SvgDrawing& drawing) {
    std::set<std::string> found;
    for (const auto* element : elements(drawing, "text"))
        found.insert(element->getAllSubText().toStdString());
    return found;
}

/// Where a text stands, by the font it is drawn with.
inline juce::Rectangle<float> boxOf(const juce::XmlElement& text) {
    juce::Font font;
    font.setTypefaceName("DejaVu Sans");
    font.setBold(text.getStringAttribute("font-weight") == "bold");
    font = font.withPointHeight(static_cast<float>(text.getDoubleAttribute("font-size")));
    const auto width = font.getStringWidthFloat(text.getAllSubText());
    const auto anchor = text.getStringAttribute("text-anchor");
    const auto left = static_cast<float>(text.getDoubleAttribute("x"))
                      - (anchor == "end"      ? width
                         : anchor == "middle" ? width / 2
                                              : 0);
    const auto baseline = static_cast<float>(text.getDoubleAttribute("y"));
    return {left, baseline - 0.76f * static_cast<float>(text.getDoubleAttribute("font-size")), width,
            static_cast<float>(text.getDoubleAttribute("font-size"))};
}

/// Every text is on the sheet, large enough to read and clear of the others; there are more than `fewest`.
inline void checkWords(const console::SvgDrawing& drawing, std::size_t fewest = 20) {
    const juce::Rectangle<float> sheet(0, 0, console::pictureWidth_px, console::pictureHeight_px);
    const auto texts = elements(drawing, "text");
    REQUIRE(texts.size() > fewest);
    for (std::size_t i = 0; i < texts.size(); ++i) {
        const auto box = boxOf(*texts[i]);
        INFO(texts[i]->getAllSubText());
        CHECK(sheet.contains(box));
        CHECK(texts[i]->getDoubleAttribute("font-size") >= 12);
        for (std::size_t j = 0; j < i; ++j) {
            INFO(texts[j]->getAllSubText());
            CHECK_FALSE(boxOf(*texts[j]).intersects(box));
        }
    }
}

} // namespace headland::test
