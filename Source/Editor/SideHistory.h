// SPDX-License-Identifier: GPL-3.0-or-later
// The frames of one cut as the views need them, live or logged: every frame, a row a turn for pictures of the whole side,
// and the summary with its passages. Only grows; a new cut begins a new one. Main thread.
#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"
#include "Log/FrameList.h"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace headland::editor {

/// One revolution of the side, or what there is of it.
struct TurnRow {
    double start_s = 0, end_s = 0; ///< program time, ends of its sectors
    double outerRadius_mm = 0;     ///< where it begins
    double innerRadius_mm = 0;     ///< where it ends
    double pitchMean_um = 0;       ///< as the lathe moved
    double demandGreatest_um = 0;  ///< 0: none
    double landLeast_um = NAN;
    double peakGreatest_dbfs = -INFINITY;
    std::uint16_t flags = 0; ///< of all its sectors
    cut::State state{};      ///< of its last sector
    std::size_t firstFrame = 0, frames = 0;
};

class SideHistory {
public:
    explicit SideHistory(const cut::CutSettings& settings);
    /// Of a cut that is over, with all its frames.
    SideHistory(const cut::CutSettings& settings, log::FrameList frames);

    /// The next frames of the cut, in order; some may be missing.
    void add(std::span<const cut::CutFrame> more);

    const cut::CutSettings& settings() const noexcept { return made; }
    const log::FrameList& frames() const noexcept { return all; }
    /// Outermost first; the last one may be unfinished.
    const std::vector<TurnRow>& turns() const noexcept { return rows; }
    /// Of all that was added. Made anew only when something was.
    const cut::CutSummary& summary() const;

    /// Index of the first frame whose sector ends at or after a program time; frames().size() past the last.
    std::size_t frameAt(double time_s) const;
    /// The frame about one turn before another; nothing where there is none.
    std::optional<cut::CutFrame> turnBefore(std::size_t frame) const;

private:
    void take(const cut::CutFrame& frame);
    void addToTurn(const cut::CutFrame& frame);

    cut::CutSettings made;
    log::FrameList all;
    std::size_t taken = 0;                                        ///< of these, in what follows
    double lastTime_s = NAN, lastTurn = NAN, lastRadius_mm = NAN; ///< of the frame taken last
    std::vector<TurnRow> rows;
    cut::SummaryBuilder builder;
    mutable std::optional<cut::CutSummary> summed;
};

} // namespace headland::editor
