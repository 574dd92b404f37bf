// SPDX-License-Identifier: GPL-3.0-or-later
// What other preview delays would have cost for the program cut so far, on a thread of its own, because every delay is a
// side planned again. Main thread, but for run().
#pragma once

#include "Cut/DelayCost.h"
#include "Editor/SideHistory.h"
#include "HandOff/Cell.h"

#include <juce_core/juce_core.h>

#include <mutex>
#include <string>
#include <vector>

namespace headland::editor {

/// One delay.
struct StudiedDelay {
    cut::DelayCost cost;
    double turns = 0;
    bool isSet = false; ///< the one the side was cut with
};

struct DelayStudyResult {
    double cutTo_s = 0;               ///< program time up to which there was program
    std::vector<StudiedDelay> delays; ///< by rising delay; those that are done
    bool isWhole = false;             ///< no more will come
};

class DelayStudy final : private juce::Thread {
public:
    DelayStudy() : Thread("Headland delays") {}
    ~DelayStudy() override { stop(); }

    /// Begins anew with the frames there are. Copies them.
    void begin(const SideHistory& side, double sampleRate_hz);
    void stop() { stopThread(-1); }
    bool isBusy() const { return isThreadRunning(); }
    /// So far.
    DelayStudyResult result() const;

private:
    void run() override;

    cut::CutSettings settings; ///< not touched while the thread runs, as the two that follow
    double sampleRate_hz = 0;
    log::FrameList frames;
    mutable std::mutex lock; // of what follows
    DelayStudyResult made;
};

} // namespace headland::editor
