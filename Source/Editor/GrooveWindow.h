// SPDX-License-Identifier: GPL-3.0-or-later
// The turns around one place in plan, to one scale along and across, as a microscope shows them: the two walls of each groove,
// bottoms, lands, the set land, the narrowest land with its dimension, what has met and what was lifted. The way of the cut
// runs to the right, the disc's edge is below. Laid out when it is shown or resized; a paint only fills. Main thread.
#pragma once

#include "Cut/GroovePatch.h"
#include "Cut/GrooveScale.h"
#include "Editor/Drawn.h"
#include "Editor/Units.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace headland::editor {

/// What the window is pointed at.
struct GrooveSight {
    std::optional<cut::GroovePatch> patch;
    double landSet_um = 0;
    std::string heading; ///< "At the stylus", "Thin land at 3:21.0, diameter 262.1 mm"
    std::string none;    ///< why there is no patch, one sentence
};

class GrooveWindow final : public juce::Component {
public:
    GrooveWindow();

    /// While the heading stays the same, so does the scale, as far as the turns allow.
    void show(const GrooveSight& sight, Units units);

    /// What is written, as laid out last.
    const std::vector<DrawnText>& texts() const noexcept { return words; }
    /// From the patch to this component's px; nothing without a patch.
    const std::optional<cut::GrooveScale>& scale() const noexcept { return fitted; }

    void paint(juce::Graphics& g) override;
    void resized() override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    void layOut(bool holdScale);
    void layOutHeading(juce::Rectangle<float>& area);
    void layOutNothing(juce::Rectangle<float> area);
    void layOutPatch(juce::Rectangle<float> area, double held_px_per_um);
    void layOutLand(juce::Point<float> from, juce::Point<float> to, double land_um,
                    const juce::Rectangle<float>& view);
    void layOutFindings(juce::Rectangle<float> area, const std::vector<std::string>& findings,
                        juce::Colour paint);

    GrooveSight sight;
    Units units = Units::metric;
    std::optional<cut::GrooveScale> fitted;
    std::vector<DrawnShape> inView; ///< clipped to the view, in the order they are drawn
    std::vector<DrawnShape> over;   ///< on everything
    std::vector<DrawnText> words;
};

} // namespace headland::editor
