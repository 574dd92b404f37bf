// SPDX-License-Identifier: GPL-3.0-or-later
// A drawing as SVG, kept to what both browsers and JUCE's SVG reader understand alike: lines, rectangles, paths and
// text with their attributes on the element itself, no style sheet, no text chunks, no clipping. Lengths in px, y
// downwards. One thread.
#pragma once

#include <juce_core/juce_core.h>

#include <string>
#include <string_view>

namespace headland::console {

inline constexpr double label_px = 13; ///< height of the letters beside what is drawn

/// How a shape is drawn; "none" leaves a part out.
struct Paint {
    std::string_view fill = "none";
    double fillOpacity = 1;
    std::string_view stroke = "none";
    double strokeWidth = 1;
    double strokeOpacity = 1;
    std::string_view dashes = ""; ///< lengths, e.g. "6 4"
};

/// How text is set.
struct TextStyle {
    double size_px = 13;
    std::string_view anchor = "start"; ///< start, middle, end
    bool bold = false;
    std::string_view colour = "#000000";
    double rotation_deg = 0; ///< about the text's own place, clockwise
};

class SvgDrawing {
public:
    /// An empty white drawing.
    SvgDrawing(int width_px, int height_px);

    void line(double x1, double y1, double x2, double y2, const Paint& paint);
    void rectangle(double x, double y, double width, double height, const Paint& paint);
    /// `data` in SVG's path language; nothing is added when it is empty.
    void path(const std::string& data, const Paint& paint);
    /// `text` (UTF-8) with its baseline at y.
    void text(double x, double y, const std::string& text, const TextStyle& style);

    const juce::XmlElement& xml() const noexcept { return root; }

    /// The file's text, UTF-8.
    std::string toText() const;

private:
    juce::XmlElement& add(const char* tag, const Paint& paint);

    juce::XmlElement root{"svg"};
};

/// A coordinate as written into path data: a tenth of a pixel is enough.
std::string coordinate(double value_px);

/// Width that `text` takes at most in DejaVu Sans at this size, estimated from its characters: measuring would make the
/// drawing depend on the fonts of the machine.
double textWidth_px(std::string_view text, double size_px);

} // namespace headland::console
