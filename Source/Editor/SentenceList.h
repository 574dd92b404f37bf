// SPDX-License-Identifier: GPL-3.0-or-later
// Whole sentences, worst first, each with its weight in a word and a colour. What does not fit is counted, and all of it
// is in the tooltip. Main thread.
#pragma once

#include "Editor/Words.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

class SentenceList final : public juce::Component, public juce::SettableTooltipClient {
public:
    SentenceList();

    /// `next` is shown always, below them; `nextIsBad`: as what is wrong is.
    void show(const std::vector<Sentence>& sentences, const std::string& next, bool nextIsBad = false);

    /// All of it, a line each.
    const std::string& shown() const noexcept { return text; }
    /// Of the sentences, as it was painted last.
    int leftOut() const noexcept { return leftOutCount; }

    void paint(juce::Graphics& g) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    std::vector<Sentence> sentences;
    std::string next, text;
    bool isBad = false;
    std::size_t fitting(juce::Rectangle<float> area, float height) const;

    int leftOutCount = 0;
};

} // namespace headland::editor
