// SPDX-License-Identifier: GPL-3.0-or-later
// Hands every frame to several sinks, in the order they were added: summary, log and picture from one cut.
// On the thread that runs the engine.
#pragma once

#include "Cut/CutFrame.h"

#include <algorithm>
#include <vector>

namespace headland::console {

/// Does not own the sinks; they must outlive the cut.
class FrameFanOut : public cut::FrameSink {
public:
    void add(cut::FrameSink& sink) { sinks.push_back(&sink); }

    void frame(const cut::CutFrame& frame) noexcept override {
        for (auto* sink : sinks)
            sink->frame(frame);
    }

    bool wantsEdges() const noexcept override {
        return std::any_of(sinks.begin(), sinks.end(), [](const auto* sink) { return sink->wantsEdges(); });
    }

    void edges(const cut::EdgeRun& run) noexcept override {
        for (auto* sink : sinks)
            if (sink->wantsEdges())
                sink->edges(run);
    }

private:
    std::vector<cut::FrameSink*> sinks;
};

} // namespace headland::console
