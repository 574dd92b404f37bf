// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/SideHistory.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace headland::editor {

SideHistory::SideHistory(const cut::CutSettings& settings) : made(settings), builder(settings) {}

SideHistory::SideHistory(const cut::CutSettings& settings, log::FrameList frames) : SideHistory(settings) {
    all = std::move(frames);
    for (const auto& frame : all)
        take(frame);
}

void SideHistory::add(std::span<const cut::CutFrame> more) {
    if (more.empty())
        return;
    for (const auto& frame : more) {
        all.push_back(frame);
        take(frame);
    }
    summed.reset();
}

void SideHistory::take(const cut::CutFrame& frame) {
    addToTurn(frame);
    builder.frame(frame);
    ++taken;
    lastTime_s = frame.time_s;
    lastTurn = frame.turn;
    lastRadius_mm = frame.radius_mm;
}

/// A frame is told at the end of its sector: the last one of a turn has that turn's whole number.
void SideHistory::addToTurn(const cut::CutFrame& frame) {
    const auto turnOf = [](double turn) { return std::max(0.0, std::ceil(turn - 1e-9) - 1); };
    if (rows.empty() || turnOf(frame.turn) != turnOf(lastTurn)) {
        TurnRow row;
        row.start_s = taken == 0 ? frame.time_s : lastTime_s;
        row.outerRadius_mm = taken == 0 ? frame.radius_mm : lastRadius_mm;
        row.firstFrame = taken;
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

std::size_t SideHistory::frameAt(double time_s) const {
    return all.firstNot([&](std::size_t i) { return all.time_s(i) < time_s; });
}

std::optional<cut::CutFrame> SideHistory::turnBefore(std::size_t frame) const {
    const auto turn = all.turn(frame) - 1;
    const auto guess = frame - std::min(frame, static_cast<std::size_t>(made.sectors_per_turn));
    // Without gaps the guess is right; a sector is 1 / sectors_per_turn of a turn.
    const auto isIt = [&](std::size_t at) {
        return std::abs(all.turn(at) - turn) * made.sectors_per_turn < 0.5;
    };
    if (isIt(guess))
        return all[guess];
    const auto at =
        all.firstNot([&](std::size_t i) { return all.turn(i) < turn - 0.5 / made.sectors_per_turn; });
    return at < frame && isIt(at) ? std::optional(all[at]) : std::nullopt;
}

} // namespace headland::editor
