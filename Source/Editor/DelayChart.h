// SPDX-License-Identifier: GPL-3.0-or-later
// What every delay would have cost: a row a delay with its seconds, turns and tape, the disc used as a bar to scale, and
// what falls short. Drawn from results alone. Main thread.
#pragma once

#include "Editor/DelayStudy.h"
#include "Editor/Units.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <string>

namespace headland::editor {

/// "1.800 s = 1.00 turns = 685.8 mm of tape at 38 cm/s, 1371.6 mm at 76 cm/s"
std::string delayText(double delay_s, double turn_s, Units units);

/// What a delay would have cost, in words: "2.70 s, 1.50 turns: 20.1 mm of disc, nothing short"
std::string studyText(const StudiedDelay& delay, Units units);

class DelayChart final : public juce::Component {
public:
    DelayChart();

    void show(const DelayStudyResult& result, Units units);

    void paint(juce::Graphics& g) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    DelayStudyResult result;
    Units units = Units::metric;
};

} // namespace headland::editor
