// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/SetupPage.h"

#include "Editor/Keys.h"

namespace headland::editor {

namespace {

constexpr int setupPageRowHeight = 34, setupPageNoticeHeight = 18, setupPageGap = 4;
constexpr float keepShare = 0.6f;

} // namespace

SetupPage::SetupPage(Access& access, Sheets& sheets, const std::function<void(Typing&)>& prepare,
                     std::function<void(const std::string&)> say)
    : onSaid(std::move(say)),
      history(access),
      keep(access, sheets,
           [this](const std::string& refusal) {
               history.note();
               onSaid(refusal);
           }),
      list(access, prepare) {
    setComponentID("set-up page");
    undo.setComponentID("undo");
    undo.setButtonText("Undo [" + juce::String(commandName) + "Z]");
    undo.onClick = [this] { onSaid(history.undo(units)); };
    redo.setComponentID("redo");
    redo.setButtonText("Redo [" + juce::String(commandName) + "Y]");
    redo.onClick = [this] { onSaid(history.redo(units)); };
    for (juce::Component* part : std::initializer_list<juce::Component*>{&keep, &undo, &redo, &told, &list})
        addAndMakeVisible(part);
}

void SetupPage::show(const Glimpse& glimpse) {
    const auto isFree = glimpse.status.state == cut::State::up && !glimpse.status.lowering;
    units = glimpse.units;
    undo.setEnabled(isFree);
    redo.setEnabled(isFree);
    list.show(glimpse);
}

void SetupPage::tell(const std::string& notice) {
    told.show(notice);
}

bool SetupPage::press(const juce::KeyPress& key) {
    if (isCommandKey(key, 'Z'))
        onSaid(key.getModifiers().isShiftDown() ? history.redo(units) : history.undo(units));
    else if (isCommandKey(key, 'Y'))
        onSaid(history.redo(units));
    else
        return false;
    return true;
}

void SetupPage::resized() {
    auto area = getLocalBounds();
    auto row = area.removeFromTop(setupPageRowHeight);
    keep.setBounds(row.removeFromLeft(juce::roundToInt(keepShare * static_cast<float>(row.getWidth()))));
    undo.setBounds(row.removeFromLeft(row.getWidth() / 2).withTrimmedRight(4));
    redo.setBounds(row.withTrimmedRight(4));
    told.setBounds(area.removeFromTop(setupPageNoticeHeight));
    area.removeFromTop(setupPageGap);
    list.setBounds(area);
}

} // namespace headland::editor
