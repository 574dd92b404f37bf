// SPDX-License-Identifier: GPL-3.0-or-later
// The set-up with its presets, sound device and undo. Main thread.
#pragma once

#include "Editor/KeepPanel.h"
#include "Editor/NoticeLine.h"
#include "Editor/SetupList.h"
#include "Editor/SetupUndo.h"

namespace headland::editor {

class SetupPage final : public juce::Component {
public:
    /// `prepare` is given everything that is typed into; `say` what was refused or done, or nothing.
    SetupPage(Access& access, Sheets& sheets, const std::function<void(Typing&)>& prepare,
              std::function<void(const std::string&)> say);

    void show(const Glimpse& glimpse);
    /// What was done or refused here, in words; nothing: nothing was.
    void tell(const std::string& notice);
    /// With every look, shown or not.
    void settle() { history.settle(); }
    /// Something may have been changed: it can be undone from now on.
    void note() { history.note(); }
    /// Undoes or does again if it is the key for that. False: it is not.
    bool press(const juce::KeyPress& key);

    void resized() override;

private:
    std::function<void(const std::string&)> onSaid;
    NoticeLine told;
    Units units = Units::metric;
    SetupUndo history;
    KeepPanel keep;
    juce::TextButton undo, redo;
    SetupList list;
};

} // namespace headland::editor
