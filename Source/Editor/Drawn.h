// SPDX-License-Identifier: GPL-3.0-or-later
// Texts and shapes that a view has laid out and then draws: kept as data, so that a paint only fills, and what is on the
// screen can be read back. Lengths in px. Main thread.
#pragma once

#include "Editor/Look.h"

#include <array>
#include <string>
#include <vector>

namespace headland::editor {

inline constexpr float smallestText = 12; ///< px high; what does not fit at that is said in fewer words

struct DrawnText {
    juce::String text;
    juce::Rectangle<float> area;
    float height = smallestText;
    juce::Colour paint;
    juce::Justification where = juce::Justification::centredLeft;
    bool bold = false;

    bool operator==(const DrawnText& other) const {
        return text == other.text && area == other.area && height == other.height && paint == other.paint
               && where == other.where && bold == other.bold;
    }
};

/// Room that a line takes, with a little to spare.
inline float widthOf(const juce::String& text, float height, bool bold = false) {
    return juce::Font(height, bold ? juce::Font::bold : juce::Font::plain).getStringWidthFloat(text) + 2;
}

/// The first of several wordings that fits; the last if none does.
inline std::string firstThatFits(const std::vector<std::string>& wordings, float width, float height,
                                 bool bold = false) {
    for (const auto& wording : wordings)
        if (widthOf(toJuce(wording), height, bold) <= width)
            return wording;
    return wordings.back();
}

/// A text in lines no wider than `width`, broken between words.
inline juce::StringArray linesOf(const juce::String& text, float width, float height) {
    juce::StringArray lines;
    for (const auto& word : juce::StringArray::fromTokens(text, " ", "")) {
        const auto longer = lines.isEmpty() ? word : lines[lines.size() - 1] + " " + word;
        if (lines.isEmpty() || widthOf(longer, height) > width)
            lines.add(word);
        else
            lines.set(lines.size() - 1, longer);
    }
    return lines;
}

struct DrawnShape {
    juce::Path path;
    juce::Colour paint;

    bool operator==(const DrawnShape& other) const { return paint == other.paint && path == other.path; }
};

inline juce::Path stroked(const juce::Path& path, float width) {
    juce::Path result;
    juce::PathStrokeType(width).createStrokedPath(result, path);
    return result;
}

inline juce::Path dashed(const juce::Path& path, float width, float on, float off) {
    juce::Path result;
    const std::array lengths{on, off};
    juce::PathStrokeType(width).createDashedStroke(result, path, lengths.data(), 2);
    return result;
}

inline void draw(juce::Graphics& g, const std::vector<DrawnShape>& shapes) {
    for (const auto& shape : shapes) {
        g.setColour(shape.paint);
        g.fillPath(shape.path);
    }
}

inline void draw(juce::Graphics& g, const std::vector<DrawnText>& texts) {
    for (const auto& text : texts) {
        g.setColour(text.paint);
        drawWhole(g, text.text, text.area, text.height, text.where, text.bold);
    }
}

/// As they are read aloud or compared.
inline std::vector<std::string> wordsOf(const std::vector<DrawnText>& texts) {
    std::vector<std::string> words;
    for (const auto& text : texts)
        words.push_back(text.text.toStdString());
    return words;
}

} // namespace headland::editor
