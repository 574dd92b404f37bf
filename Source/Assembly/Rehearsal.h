// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts the open program once with the set-up as it is, on a thread of its own and out of sight, so that the window can show
// the whole side before the stylus goes down. Main thread, but for run().
#pragma once

#include "Cut/CutSettings.h"
#include "Editor/SideHistory.h"
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

    /// Rehearses this file with these settings, unless it is what was rehearsed last. What cannot be cut has no rehearsal;
    /// why is said elsewhere.
    void wish(const std::string& program, const cut::CutSettings& settings);
    /// The whole side; null while it is not known.
    std::shared_ptr<const editor::SideHistory> side() const;
    /// How far it is, 0 to 1; 1 only when nothing is being rehearsed.
    double fraction() const noexcept {
        constexpr double ofProgram = 0.99; // the lead-out comes after it
        return isThreadRunning() ? ofProgram * done.get() : 1;
    }

private:
    void run() override;
    std::shared_ptr<editor::SideHistory> cutAll();

    std::string path; ///< what is rehearsed; not touched while the thread runs, as the settings
    cut::CutSettings settings;
    handoff::Cell<double> done{0};
    mutable std::mutex lock; // of what follows
    std::shared_ptr<const editor::SideHistory> made;
};

} // namespace headland::assembly
