// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/SentenceList.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr float letters = 16;
constexpr float nextHeight = 24;

std::uint32_t colourOf(Weight weight) {
    return weight == Weight::fault     ? palette::fault
           : weight == Weight::caution ? palette::caution
                                       : palette::text;
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

void SentenceList::show(const std::vector<Sentence>& wanted, const std::string& nextLine) {
    std::string all;
    for (const auto& sentence : wanted)
        all += lineOf(sentence) + "\n";
    if (wanted.empty())
        all = "Nothing is wrong.\n";
    all += nextLine;
    if (all == text)
        return;
    text = all;
    sentences = wanted;
    next = nextLine;
    setTitle(toJuce(text));
    setTooltip(toJuce(text));
    repaint();
}

void SentenceList::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    auto area = getLocalBounds().toFloat().reduced(10, 4);
    g.setColour(colour(palette::good));
    drawWhole(g, toJuce(next), area.removeFromBottom(nextHeight), letters, juce::Justification::centredLeft);
    if (sentences.empty()) {
        g.setColour(colour(palette::text));
        drawWhole(g, "Nothing is wrong.", area, letters, juce::Justification::topLeft);
    }
    leftOutCount = 0;
    for (std::size_t i = 0; i < sentences.size(); ++i) {
        const auto rest = sentences.size() - i - 1;
        const auto layout = layoutOf(sentences[i], area.getWidth(), letters);
        const auto needed = layout.getHeight() + (rest > 0 ? letters + 2 : 0); // a line for how many more
        if (needed > area.getHeight() && !(rest == 0 && layout.getHeight() <= area.getHeight())) {
            leftOutCount = static_cast<int>(rest) + 1;
            g.setColour(colour(palette::text));
            drawWhole(g, "and " + juce::String(leftOutCount) + " more: hold the mouse here to read all",
                      area.removeFromTop(letters + 2), letters, juce::Justification::centredLeft);
            return;
        }
        layout.draw(g, area.removeFromTop(layout.getHeight() + 2));
    }
}

std::unique_ptr<juce::AccessibilityHandler> SentenceList::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::staticText);
}

} // namespace headland::editor
