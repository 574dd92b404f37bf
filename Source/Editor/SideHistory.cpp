// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/SideHistory.h"

#include <algorithm>
#include <cmath>

namespace headland::editor {

SideHistory::SideHistory(const cut::CutSettings& settings) : made(settings), builder(settings) {}

void SideHistory::add(std::span<const cut::CutFrame> more) {
    if (more.empty())
        return;
    for (const auto& frame : more) {
        addToTurn(frame);
        builder.frame(frame);
        all.push_back(frame);
    }
    summed.reset();
}

/// A frame is told at the end of its sector: the last one of a turn has that turn's whole number.
void SideHistory::addToTurn(const cut::CutFrame& frame) {
    const auto turn = static_cast<std::size_t>(std::max(0.0, std::ceil(frame.turn - 1e-9) - 1));
    const auto isNew =
        rows.empty() || turn != static_cast<std::size_t>(std::ceil(all.back().turn - 1e-9) - 1);
    if (isNew) {
        TurnRow row;
        row.start_s = all.empty() ? frame.time_s : all.back().time_s;
        row.outerRadius_mm = all.empty() ? frame.radius_mm : all.back().radius_mm;
        row.firstFrame = all.size();
        rows.push_back(row);
    }
    auto& row = rows.back();
    ++row.frames;
    row.end_s = frame.time_s;
    row.innerRadius_mm = frame.radius_mm;
    row.pitchMean_um += (frame.pitch_um - row.pitchMean_um) / static_cast<double>(row.frames);
    row.demandGreatest_um = std::max(row.demandGreatest_um, frame.demand_um);
    row.landLeast_um = std::fmin(row.landLeast_um, frame.landMin_um);
    row.peakGreatest_dbfs = std::max(row.peakGreatest_dbfs, frame.peak_dbfs);
    row.flags = static_cast<std::uint16_t>(row.flags | frame.flags);
    row.state = frame.state;
}

const cut::CutSummary& SideHistory::summary() const {
    if (!summed)
        summed = builder.summary();
    return *summed;
}

std::size_t SideHistory::frameAt(double time_s) const noexcept {
    const auto found = std::lower_bound(all.begin(), all.end(), time_s,
                                        [](const auto& frame, double time) { return frame.time_s < time; });
    return static_cast<std::size_t>(found - all.begin());
}

const cut::CutFrame* SideHistory::turnBefore(std::size_t frame) const noexcept {
    const auto turn = all[frame].turn - 1;
    const auto guess = frame - std::min(frame, static_cast<std::size_t>(made.sectors_per_turn));
    // Without gaps the guess is right; a sector is 1 / sectors_per_turn of a turn.
    const auto isIt = [&](std::size_t at) {
        return std::abs(all[at].turn - turn) * made.sectors_per_turn < 0.5;
    };
    if (isIt(guess))
        return &all[guess];
    const auto found = std::lower_bound(
        all.begin(), all.begin() + static_cast<std::ptrdiff_t>(frame), turn,
        [this](const auto& f, double t) { return f.turn < t - 0.5 / made.sectors_per_turn; });
    const auto at = static_cast<std::size_t>(found - all.begin());
    return at < frame && isIt(at) ? &all[at] : nullptr;
}

} // namespace headland::editor
