// SPDX-License-Identifier: GPL-3.0-or-later
// What one looks at while a side is cut, or afterwards: what is coming, the whole side, the groove, the disc, the figures and
// the cautions. Main thread.
#pragma once

#include "Editor/ApproachStrip.h"
#include "Editor/CautionList.h"
#include "Editor/DiscFace.h"
#include "Editor/GrooveWindow.h"
#include "Editor/Ledger.h"
#include "Editor/Overview.h"
#include "Editor/Viewpoint.h"

namespace headland::editor {

class StylusPage final : public juce::Component {
public:
    /// `viewpoint` must outlive the page.
    explicit StylusPage(Viewpoint& viewpoint);

    /// Shows what the viewpoint has.
    void show(const Glimpse& glimpse);
    /// Looks at the next caution, or the one before; from where a cut has ended, at the first. False: there is none that way.
    bool step(bool forward);

    /// Called with a note of the cut that is reviewed, which is to be written anew or deleted.
    std::function<void(const log::LoggedNote&)> onEditNote, onDeleteNote;

    void resized() override;

private:
    bool isTimeForFigures(const Glimpse& glimpse);

    Viewpoint& view;
    juce::uint32 figures_ms = 0; ///< when the ledger was last written
    std::string ledgerHead;      ///< and what it was of
    Units ledgerUnits = Units::metric;
    ApproachStrip strip;
    Overview overview;
    GrooveWindow groove;
    DiscFace face;
    Ledger ledger;
    CautionList cautions;
};

} // namespace headland::editor
