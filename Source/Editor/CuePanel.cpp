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
        button.setTitle(toJuce(key.label));
        button.setDescription(key.key == escapeKey ? "Key Escape"
                                                   : "Shift and " + keyName(key.key) + ", or "
                                                         + keyName(key.key) + " twice within a second");
        button.setTooltip(button.getDescription());
        button.setWantsKeyboardFocus(false); // Return, meant for something else, must not press it
        button.onClick = [this, cue = key.cue] { onCue(cue); };
        addAndMakeVisible(button);
    }
}

void CuePanel::show(const Glimpse& glimpse, const Keystrokes& strokes) {
    for (std::size_t i = 0; i < cueKeys.size(); ++i) {
        const auto& [cue, name, key] = cueKeys[i];
        buttons[i].setEnabled(isOffered(cue, glimpse));
        buttons[i].setButtonText(
            cue == cut::Cue::lift
                ? toJuce(name) + " [" + keyName(key) + "]"
                : deliberateText(toJuce(name), key, strokes.standing(key)).replace(" [", "\n["));
    }
    scrap = isScrapOver(glimpse);
    if (const auto wanted = stateText(glimpse); wanted != stateLine) {
        stateLine = wanted;
        setTitle(toJuce(stateLine));
    }
}

bool CuePanel::press(const juce::KeyPress& pressed, Keystrokes& strokes, double now_ms) {
    for (std::size_t i = 0; i < cueKeys.size(); ++i) {
        if (!isKey(pressed, cueKeys[i].key))
            continue;
        const auto give = [this, i] {
            if (buttons[i].isEnabled())
                onCue(cueKeys[i].cue);
        };
        if (cueKeys[i].cue == cut::Cue::lift)
            give();
        else if (buttons[i].isEnabled())
            strokes.command(pressed, Keystrokes::Kind::deliberate, give, now_ms);
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
