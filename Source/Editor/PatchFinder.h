// SPDX-License-Identifier: GPL-3.0-or-later
// Makes the groove at any place of a cut again, from the program's file and the frames, on a thread of its own, because it
// reads the file up to there. The newest wish counts. Main thread, but for run().
#pragma once

#include "Cut/GroovePatch.h"
#include "Editor/SideHistory.h"
#include "HandOff/Cell.h"

#include <juce_core/juce_core.h>

#include <memory>
#include <mutex>
#include <optional>
#include <string>

namespace headland::editor {

class PatchFinder final : private juce::Thread {
public:
    struct Wish {
        std::string program;                     ///< path of the file
        std::shared_ptr<const SideHistory> side; ///< does not change any more
        double sampleRate_hz = 0;
        double time_s = 0;
    };
    struct Found {
        double time_s = 0;
        std::optional<cut::GroovePatch> patch;
        std::string refusal; ///< why there is none, one sentence
    };

    PatchFinder() : Thread("Headland groove") {}
    ~PatchFinder() override { stop(); }

    /// Gives up what is being made, and begins with this.
    void find(Wish wanted);
    /// Gives up what is being made. Waits until the thread has seen it: a few milliseconds.
    void stop();
    bool isBusy() const { return isThreadRunning(); }
    /// Of what is being made, 0 to 1.
    double fraction() const noexcept { return done.get(); }
    /// What was made since the last call.
    std::optional<Found> take();

private:
    void run() override;

    Wish wish; ///< not touched while the thread runs
    handoff::Cell<double> done{0};
    std::mutex lock; // of what follows
    std::optional<Found> found;
};

} // namespace headland::editor
