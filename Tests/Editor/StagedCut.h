// SPDX-License-Identifier: GPL-3.0-or-later
// A side that is really cut, by the engine and out of sight, as far as a test wants it: what a window would be told of it.
#pragma once

#include "Cut/CutEngine.h"
#include "Editor/Access.h"
#include "Log/CutInView.h"
#include "Tests/Cut/TestPrograms.h"

#include <memory>
#include <utility>

namespace headland::test {

class StagedCut final : private cut::FrameSink {
public:
    /// The stylus goes down with the lead-in of a side that runs by itself.
    StagedCut(const cut::CutSettings& s, Program p)
        : settings(s), program(std::move(p)), inView(s, program.rate_hz), builder(s) {
        engine.prepare(settings, program.rate_hz);
    }

    /// Cuts until the stylus is at a program time, or the side is over.
    void runTo(double time_s) {
        while (!isOver && (all.empty() || all.back().time_s < time_s))
            runSome();
    }
    void runToEnd() { runTo(1e9); }
    bool isUp() const { return isOver; }

    /// Path of the program's file; empty: it comes from elsewhere.
    std::string file;

    const std::vector<cut::CutFrame>& frames() const noexcept { return all; }
    const log::CutInView& view() const noexcept { return inView; }

    /// How things stand, as the processor would tell it.
    editor::Glimpse glimpse() const {
        editor::Glimpse glimpse;
        glimpse.isFed = true;
        glimpse.setup = settings;
        glimpse.summary = builder.summary();
        auto& status = glimpse.status;
        status.previewFull = true;
        status.serial = 1;
        status.cuts = all.empty() ? 0 : 1;
        status.state = isOver || all.empty() ? cut::State::up : all.back().state;
        if (!all.empty())
            status.frame = all.back();
        if (isOver) {
            glimpse.lastEnd = "finished";
            status.lastEnd = handoff::CutEnd::finished;
        }
        return glimpse;
    }

    editor::CutNews news(std::uint32_t cut, std::size_t seen) const {
        if (all.empty())
            return {};
        return {1, settings, program.rate_hz, file, inView.framesAfter(cut == 1 ? seen : 0)};
    }
    bool foresee(plan::Foresight& coming) noexcept {
        engine.foresee(coming);
        return true;
    }

private:
    void frame(const cut::CutFrame& frame) noexcept override {
        all.push_back(frame);
        inView.frame(frame);
        builder.frame(frame);
    }
    bool wantsEdges() const noexcept override { return true; }
    void edges(const cut::EdgeRun& run) noexcept override { inView.edges(run); }

    void runSome() {
        constexpr std::size_t block = 441;
        if (!leadInDone) {
            leadInDone = engine.leadInSome(static_cast<int>(block), *this);
        } else if (next < program.length()) {
            const auto count = std::min(block, program.length() - next);
            engine.process(&program.left[next], &program.right[next], static_cast<int>(count), *this);
            next += count;
        } else if (engine.finishSome(static_cast<int>(block), *this)) {
            isOver = true;
            inView.finish();
        }
    }

    cut::CutSettings settings;
    Program program;
    cut::CutEngine engine;
    log::CutInView inView;
    cut::SummaryBuilder builder;
    std::vector<cut::CutFrame> all;
    std::size_t next = 0;
    bool leadInDone = false, isOver = false;
};

} // namespace headland::test
