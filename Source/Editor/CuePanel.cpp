// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/CuePanel.h"

#include "Editor/Keys.h"
#include "Editor/Look.h"
#include "Editor/Words.h"

namespace headland::editor {

namespace {

/// A cue that means something, and that somebody hears. Lifting is never held back.
bool isOffered(cut::Cue cue, const Glimpse& glimpse) {
    if (cue == cut::Cue::lift)
        return true;
    const auto lowers = cue == cut::Cue::leadIn;
    return glimpse.isFed && meansSomething(cue, glimpse.status) && !(lowers && !glimpse.problems.empty());
}

} // namespace

CuePanel::CuePanel(std::function<void(cut::Cue)> give) : onCue(std::move(give)) {
    for (std::size_t i = 0; i < cueKeys.size(); ++i) {
        const auto& key = cueKeys[i];
        auto& button = buttons[i];
        button.setComponentID("cue " + toJuce(key.label));
        button.setButtonText(toJuce(key.label) + " [" + keyName(key.key) + "]");
        button.setTitle(toJuce(key.label));
        button.setDescription("Key " + keyName(key.key));
        button.onClick = [this, cue = key.cue] { onCue(cue); };
        addAndMakeVisible(button);
    }
}

void CuePanel::show(const Glimpse& glimpse) {
    for (std::size_t i = 0; i < cueKeys.size(); ++i)
        buttons[i].setEnabled(isOffered(cueKeys[i].cue, glimpse));
    scrap = isScrapOver(glimpse);
    if (const auto wanted = stateText(glimpse); wanted != stateLine) {
        stateLine = wanted;
        setTitle(toJuce(stateLine));
    }
}

bool CuePanel::press(const juce::KeyPress& pressed) {
    for (std::size_t i = 0; i < cueKeys.size(); ++i)
        if (isKey(pressed, cueKeys[i].key)) {
            if (buttons[i].isEnabled())
                onCue(cueKeys[i].cue);
            return true;
        }
    return false;
}

void CuePanel::resized() {
    const auto area = getLocalBounds();
    const auto width = static_cast<float>(area.getWidth()) / static_cast<float>(buttons.size());
    for (std::size_t i = 0; i < buttons.size(); ++i)
        buttons[i].setBounds(area.withX(area.getX() + juce::roundToInt(static_cast<float>(i) * width))
                                 .withWidth(juce::roundToInt(width) - 4));
}

} // namespace headland::editor
