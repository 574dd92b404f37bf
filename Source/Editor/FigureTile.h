// SPDX-License-Identifier: GPL-3.0-or-later
// One figure: its name above, the value large, what belongs to it beside or below. Main thread.
#pragma once

#include "Editor/Words.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace headland::editor {

class FigureTile final : public juce::Component {
public:
    /// `valueHeight`: of the large type.
    explicit FigureTile(float valueHeight);

    void show(const Figure& figure);
    const Figure& shown() const noexcept { return figure; }

    void paint(juce::Graphics& g) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    static constexpr int rowHeightMost = 32; ///< lower: everything in one line
    void paintRow(juce::Graphics& g) const;

    float valueHeight;
    Figure figure;
};

} // namespace headland::editor
