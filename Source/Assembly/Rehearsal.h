// SPDX-License-Identifier: GPL-3.0-or-later
// Hears the open program once and cuts it once with the set-up as it is, on a thread of its own and out of sight, so that the
// window can show the whole side before the stylus goes down, and the cut itself knows what comes. Main thread, but for run().
#pragma once

#include "Cut/RehearsedProgram.h"
#include "Editor/SideHistory.h"
#include "Files/CutRun.h"
#include "HandOff/Cell.h"

#include <juce_core/juce_core.h>

#include <memory>
#include <mutex>
#include <string>

namespace headland::assembly {

class Rehearsal final : private juce::Thread {
public:
    Rehearsal() : Thread("Headland rehearsal") {}
    ~Rehearsal() override { stopThread(-1); }

    /// Rehearses this file with these settings, unless it is what was rehearsed last.
    void wish(const std::string& program, const cut::CutSettings& settings);
    /// This file is not rehearsed for now, as the settings there are cannot be cut with: what is known of it is old.
    void hold(const std::string& program);

    /// What came of it.
    struct Result {
        std::shared_ptr<const editor::SideHistory> side; ///< the whole side; null: not known
        std::string verdict; ///< or why it could not be rehearsed, one sentence; empty: not known
        bool isScrap = false;
        bool isOld = false;            ///< it is of this program with the settings there were before
        cut::RehearsedProgram program; ///< for the cut itself
    };
    Result result() const;
    /// How far it is, 0 to 1; 1 only when nothing is being rehearsed.
    double fraction() const noexcept {
        constexpr double ofProgram = 0.99; // the lead-out comes after it
        return isThreadRunning() ? ofProgram * done.get() : 1;
    }

private:
    void begin(const std::string& program);
    void run() override;
    Result rehearsed();
    files::BetweenBlocks share(double from, double to);
    std::shared_ptr<editor::SideHistory> cutAll(cut::RehearsedProgram& program);

    std::string path; ///< what is rehearsed; not touched while the thread runs, as the settings
    cut::CutSettings settings;
    bool isHeld = false;
    handoff::Cell<double> done{0};
    mutable std::mutex lock; // of what follows
    Result made;
};

} // namespace headland::assembly
