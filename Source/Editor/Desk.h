// SPDX-License-Identifier: GPL-3.0-or-later
// The window's whole content: what is wrong, what disc is left, the figures, the stylus, what is ridden, files and
// presets, the set-up, the log, the cautions. Looks 30 times a second while it can be seen, and not otherwise.
// Laid out for 900 x 600; Window scales it. Main thread.
#pragma once

#include "Editor/CuePanel.h"
#include "Editor/FigureTile.h"
#include "Editor/FilePanel.h"
#include "Editor/KeepPanel.h"
#include "Editor/LogPanel.h"
#include "Editor/Look.h"
#include "Editor/SentenceList.h"
#include "Editor/SetupList.h"

namespace headland::editor {

class Desk final : public juce::Component, public juce::FileDragAndDropTarget, private juce::Timer {
public:
    explicit Desk(Access& access);
    ~Desk() override;

    /// What the timer does: looks if it can be seen.
    void tick();
    /// Looks, and shows what there is.
    void refresh();

    /// Says what was refused, until the next deed; looks.
    void say(const std::string& refusal);

    bool keyPressed(const juce::KeyPress& key) override;
    bool isInterestedInFileDrag(const juce::StringArray& files) override;
    void filesDropped(const juce::StringArray& files, int x, int y) override;

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    void timerCallback() override { tick(); }
    void parentHierarchyChanged() override;
    void listenTo(Typing& typing);
    void give(cut::Cue cue);
    void sayUnheeded(const Glimpse& glimpse);
    void layOutLeft(juce::Rectangle<int> area);

    Access& access;
    Look look;
    SentenceList wrong;
    std::array<FigureTile, 2> disc{FigureTile(32), FigureTile(32)};
    std::array<FigureTile, 6> tiles{FigureTile(32), FigureTile(32), FigureTile(32),
                                    FigureTile(32), FigureTile(32), FigureTile(32)};
    CuePanel cues;
    std::vector<std::unique_ptr<ValueField>> ridden;
    std::unique_ptr<FilePanel> file;
    KeepPanel keep;
    SetupList setup;
    LogPanel log;
    juce::TooltipWindow tooltips{this};
    std::string said; ///< the last refusal, until something is done
    std::uint32_t knownCues = 0, knownMarks = 0,
                  knownNotKept = 0; ///< that meant nothing, of which somebody knows
    bool hasLooked = false;
};

} // namespace headland::editor
