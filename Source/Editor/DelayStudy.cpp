// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/DelayStudy.h"

#include "Cut/DelayList.h"

namespace headland::editor {

void DelayStudy::begin(const SideHistory& side, double rate_hz) {
    stop();
    settings = side.settings();
    sampleRate_hz = rate_hz;
    frames = side.frames();
    {
        const std::lock_guard held(lock);
        made = {};
        made.cutTo_s = frames.programEnd_s();
    }
    startThread(Priority::low);
}

DelayStudyResult DelayStudy::result() const {
    const std::lock_guard held(lock);
    return made;
}

void DelayStudy::run() {
    const auto isStopped = [this] { return threadShouldExit(); };
    const auto list = cut::delaysToTry(settings, sampleRate_hz);
    for (std::size_t i = 0; i < list.trials.size(); ++i) {
        const auto& trial = list.trials[i];
        const auto cost = cut::costOfDelay(trial, sampleRate_hz, frames, isStopped);
        if (!cost)
            return;
        const std::lock_guard held(lock);
        made.delays.push_back({*cost, trial.preview_s / trial.turn_s(), i == list.asSet});
    }
    const std::lock_guard held(lock);
    made.isWhole = true;
}

} // namespace headland::editor
