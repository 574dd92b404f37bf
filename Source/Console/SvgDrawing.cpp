// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/SvgDrawing.h"

#include "Text/Figures.h"
#include "Text/Safe.h"

namespace headland::console {

using text::fixed;
using text::plain;
using text::printable;

namespace {

juce::String toJuce(std::string_view text) {
    return juce::String::fromUTF8(text.data(), static_cast<int>(text.size()));
}

/// Advance of a glyph of DejaVu Sans, rounded up by classes; all of a character's width stands at its first byte.
double glyphWidth_em(char c) {
    constexpr std::string_view narrow = "ijl.,:;' |()[]f-rt/I", wide = "mwMW%@";
    if ((static_cast<unsigned char>(c) & 0xc0) == 0x80)
        return 0;
    return narrow.find(c) != narrow.npos ? 0.42 : wide.find(c) != wide.npos ? 1.0 : 0.66;
}

void set(juce::XmlElement& element, const char* name, std::string_view value) {
    element.setAttribute(name, toJuce(value));
}

void setNumber(juce::XmlElement& element, const char* name, double value) {
    set(element, name, coordinate(value));
}

} // namespace

SvgDrawing::SvgDrawing(int width_px, int height_px) {
    set(root, "xmlns", "http://www.w3.org/2000/svg");
    root.setAttribute("width", width_px);
    root.setAttribute("height", height_px);
    set(root, "viewBox", "0 0 " + std::to_string(width_px) + " " + std::to_string(height_px));
    rectangle(0, 0, width_px, height_px, {.fill = "#ffffff"});
}

juce::XmlElement& SvgDrawing::add(const char* tag, const Paint& paint) {
    auto& element = *root.createNewChildElement(tag);
    set(element, "fill", paint.fill);
    if (paint.fillOpacity != 1)
        set(element, "fill-opacity", plain(paint.fillOpacity));
    if (paint.stroke == "none")
        return element;
    set(element, "stroke", paint.stroke);
    set(element, "stroke-width", plain(paint.strokeWidth));
    set(element, "stroke-linejoin", "round");
    if (paint.strokeOpacity != 1)
        set(element, "stroke-opacity", plain(paint.strokeOpacity));
    if (!paint.dashes.empty())
        set(element, "stroke-dasharray", paint.dashes);
    return element;
}

void SvgDrawing::line(double x1, double y1, double x2, double y2, const Paint& paint) {
    auto& element = add("line", paint);
    setNumber(element, "x1", x1);
    setNumber(element, "y1", y1);
    setNumber(element, "x2", x2);
    setNumber(element, "y2", y2);
}

void SvgDrawing::rectangle(double x, double y, double width, double height, const Paint& paint) {
    auto& element = add("rect", paint);
    setNumber(element, "x", x);
    setNumber(element, "y", y);
    setNumber(element, "width", width);
    setNumber(element, "height", height);
}

void SvgDrawing::path(const std::string& data, const Paint& paint) {
    if (!data.empty())
        set(add("path", paint), "d", data);
}

void SvgDrawing::text(double x, double y, const std::string& text, const TextStyle& style) {
    if (text.empty())
        return;
    auto& element = add("text", {.fill = style.colour});
    setNumber(element, "x", x);
    setNumber(element, "y", y);
    set(element, "font-family", "DejaVu Sans"); // one name: JUCE takes the whole list for a name
    set(element, "font-size", plain(style.size_px));
    set(element, "text-anchor", style.anchor);
    if (style.bold)
        set(element, "font-weight", "bold");
    if (style.rotation_deg != 0)
        set(element, "transform",
            "rotate(" + plain(style.rotation_deg) + " " + coordinate(x) + " " + coordinate(y) + ")");
    element.addTextElement(toJuce(printable(text)));
}

std::string SvgDrawing::toText() const {
    juce::XmlElement::TextFormat format;
    format.newLineChars = "\n";
    format.lineWrapLength = 1 << 30; // an attribute stays on its element's line
    return root.toString(format).toStdString();
}

std::string coordinate(double value_px) {
    auto text = fixed(value_px, 1);
    if (text.ends_with(".0"))
        text.resize(text.size() - 2);
    return text;
}

double textWidth_px(std::string_view text, double size_px) {
    auto width_em = 0.0;
    for (const auto c : text)
        width_em += glyphWidth_em(c);
    return width_em * size_px;
}

} // namespace headland::console
