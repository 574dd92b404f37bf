// SPDX-License-Identifier: GPL-3.0-or-later
// What the approach strip draws, column by column: frames before the cutting line; behind it frames that were cut later, and
// what is foreseen. Columns lie on a grid of program time that does not move with the place, so that a passage keeps its
// shape while it comes nearer. Any thread.
#pragma once

#include "Editor/SideHistory.h"
#include "Editor/Units.h"
#include "Log/CutRecord.h"
#include "Plan/Foresight.h"

#include <cstdint>
#include <optional>
#include <vector>

namespace headland::editor {

/// What the strip is shown.
struct StripSight {
    const SideHistory* side = nullptr; ///< null: nothing has been cut
    plan::Foresight coming{};          ///< without steps: nothing is foreseen
    double place_s = 0;                ///< program time at the cutting line; 0 while the stylus is up
    bool isLive = true;                ///< the place is the stylus'
    const std::vector<log::LoggedNote>* notes = nullptr; ///< of the cut; null: none
    cut::CutSettings settings;
    Units units = Units::metric;
};

/// A stretch of program time. Lengths in µm; NaN: there is none.
struct StripColumn {
    float outerSwing_um = NAN; ///< greatest in the column, as the three that follow
    float innerSwing_um = NAN;
    float demand_um = NAN;
    float short_um =
        NAN; ///< how far the demand is missed, made spacing against demand; NaN or below 0: it is not
    float made_um = NAN;    ///< spacing to the turn before, where the demand is greatest
    float pitch_um = NAN;   ///< of the carriage, at the column's end
    float command_um = NAN; ///< commanded, of what was cut
    float depth_um = NAN;
    std::uint16_t flags = 0;
    bool isAhead = false; ///< foreseen, not cut

    bool isThere() const noexcept { return outerSwing_um == outerSwing_um; }
};

/// The grid: column k reaches from k to k + 1 times `column_s`.
struct StripGrid {
    double column_s;
    std::int64_t first;
    int count;

    double start_s(int column) const noexcept { return static_cast<double>(first + column) * column_s; }
};

std::vector<StripColumn> stripColumns(const StripSight& sight, const StripGrid& grid);

/// What is coming, in figures; nothing foreseen: nothing.
struct Coming {
    double demand_um, demandIn_s; ///< the greatest spacing demanded, and how long until it is at the stylus
    double shortfall_um;          ///< that the planner announces; 0: none
    double spare_um, spareIn_s;   ///< the least left over of the spacing the plan makes, 0 or more
    double heard_s;               ///< how far ahead the program has been heard
};
std::optional<Coming> whatComes(const StripSight& sight);

} // namespace headland::editor
