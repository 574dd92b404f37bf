// SPDX-License-Identifier: GPL-3.0-or-later
// The whole side at a glance, from its first second to its last: the spacing demanded and the pitch, turn by turn; what was
// flagged; where the stylus is and where one looks. What has not been cut yet is shown from a rehearsal, if there is one.
// Main thread.
#pragma once

#include "Editor/SideHistory.h"
#include "Editor/Units.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace headland::editor {

struct OverviewSight {
    const SideHistory* side = nullptr;      ///< cut; null: nothing
    const SideHistory* rehearsed = nullptr; ///< the whole side as it would be cut; null: not known
    bool isOld = false;                     ///< it was rehearsed with another set-up
    double length_s = 0;                    ///< of the side, where it is known; 0: it is not
    std::vector<double> notes_s;            ///< program times of marks and notes
    std::optional<double> place_s;          ///< where one looks; nothing: at the stylus
    Units units = Units::metric;
    std::string none; ///< what stands here while there is nothing to show
};

class Overview final : public juce::Component, public juce::SettableTooltipClient {
public:
    Overview();

    void show(const OverviewSight& sight);
    /// Program time of a place on the picture.
    double timeAt(float x) const noexcept;
    /// Called with the program time that somebody asked to look at.
    std::function<void(double time_s)> onPlace;

    void paint(juce::Graphics& g) override;
    void mouseDown(const juce::MouseEvent& event) override { mouseDrag(event); }
    void mouseDrag(const juce::MouseEvent& event) override;
    bool keyPressed(const juce::KeyPress& key) override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    void paintSide(juce::Graphics& g, const SideHistory& side, double from_s, double most_um,
                   bool isRehearsed) const;

    OverviewSight sight;
    std::size_t turnsShown = 0, turnsRehearsed = 0;
    double end_s = 0; ///< of the picture
};

} // namespace headland::editor
