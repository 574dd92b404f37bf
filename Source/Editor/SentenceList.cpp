// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/SentenceList.h"

#include "Editor/Look.h"
#include "Text/Safe.h"

namespace headland::editor {

namespace {

constexpr float sentenceLetters = 16;
constexpr float smallest = 12, spacing = 2, moreWidth = 190;
constexpr float nextHeight = 22;

std::uint32_t colourOf(Weight weight) {
    switch (weight) {
    case Weight::scrap:
    case Weight::fault:
        return palette::fault;
    case Weight::caution:
        return palette::caution;
    case Weight::notice:
        break;
    }
    return palette::text;
}

std::string lineOf(const Sentence& sentence) {
    return std::string(name(sentence.weight)) + ": " + sentence.text;
}

juce::TextLayout layoutOf(const Sentence& sentence, float width, float height) {
    juce::AttributedString line;
    line.setWordWrap(juce::AttributedString::byWord);
    const auto paint = colour(colourOf(sentence.weight));
    line.append(toJuce(name(sentence.weight)) + ": ", juce::Font(height, juce::Font::bold), paint);
    line.append(toJuce(sentence.text), juce::Font(height), paint);
    juce::TextLayout layout;
    layout.createLayout(line, width);
    return layout;
}

} // namespace

SentenceList::SentenceList() {
    setComponentID("wrong");
}

void SentenceList::show(const std::vector<Sentence>& wanted, const std::string& nextLine, bool nextIsBad) {
    std::vector<std::string> lines;
    for (const auto& sentence : wanted)
        lines.push_back(lineOf(sentence));
    if (wanted.empty())
        lines.emplace_back("Nothing is wrong.");
    lines.push_back(nextLine);
    const auto all = text::printableLines(lines);
    if (all == text && nextIsBad == isBad)
        return;
    isBad = nextIsBad;
    text = all;
    sentences = wanted;
    next = nextLine;
    setTitle(juce::String::fromUTF8(text.c_str()));
    setTooltip(getTitle());
    repaint();
}

/// How many of the sentences fit at a size; the first always counts as if it did.
std::size_t SentenceList::fitting(juce::Rectangle<float> area, float height) const {
    std::size_t count = 0;
    auto used = 0.0f;
    for (const auto& sentence : sentences) {
        used += layoutOf(sentence, area.getWidth(), height).getHeight() + spacing;
        if (used > area.getHeight() + spacing && count > 0)
            break;
        ++count;
    }
    return count;
}

/// The worst comes first and is never left out; all become smaller before any is.
void SentenceList::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    auto area = getLocalBounds().toFloat().reduced(10, 4);
    auto last = area.removeFromBottom(nextHeight);
    auto height = sentenceLetters;
    while (height > smallest && fitting(area, height) < sentences.size())
        --height;
    const auto shown = fitting(area, height);
    leftOutCount = static_cast<int>(sentences.size() - shown);
    if (leftOutCount > 0) {
        g.setColour(colour(palette::text));
        drawWhole(g, "+ " + juce::String(leftOutCount) + " more: hold the mouse here",
                  last.removeFromRight(moreWidth), smallest + 1, juce::Justification::centredRight, true);
    }
    g.setColour(colour(isBad ? palette::fault : palette::good));
    drawWhole(g, toJuce(next), last, sentenceLetters, juce::Justification::centredLeft);
    if (sentences.empty()) {
        g.setColour(colour(palette::text));
        drawWhole(g, "Nothing is wrong.", area, sentenceLetters, juce::Justification::topLeft);
    }
    for (std::size_t i = 0; i < shown; ++i) {
        auto layout = layoutOf(sentences[i], area.getWidth(), height);
        for (auto fits = height; i == 0 && fits > 8 && layout.getHeight() > area.getHeight(); --fits)
            layout = layoutOf(sentences[i], area.getWidth(), fits - 1);
        layout.draw(g, area.removeFromTop(layout.getHeight() + spacing));
    }
}

std::unique_ptr<juce::AccessibilityHandler> SentenceList::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::staticText);
}

} // namespace headland::editor
