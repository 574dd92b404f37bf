// SPDX-License-Identifier: GPL-3.0-or-later
// What the console says and draws for each flag: the figure it is about, its unit, which way is worse, its mark in
// the picture; in one table, worst kind first. Constant data; any thread.
#pragma once

#include "Cut/CutSummary.h"

#include <span>
#include <string>
#include <string_view>

namespace headland::log {

/// Shape of a flag's mark in the picture; each flag has its own, so that colour is never the only difference.
enum class MarkShape {
    cross,
    triangleUp,
    triangleDown,
    triangleLeft,
    triangleRight,
    square,
    circle,
    diamond,
    plus,
    bar,
    hexagon,
    hourglass
};

/// How one flag is shown.
struct FlagRow {
    cut::Flag flag;
    std::string_view figure; ///< what Passage::worst is, e.g. "land"
    std::string_view unit;   ///< of the figure, "" when it has none
    int decimals;            ///< places after the point worth showing
    bool lessIsWorse;        ///< whether a smaller figure is worse
    MarkShape shape;
    std::string_view
        colour; ///< "#rrggbb", from the Okabe–Ito palette, which stays apart for colour-blind eyes
};

/// Every flag, worst kind first.
std::span<const FlagRow> flagTable() noexcept;

/// The row of one flag.
const FlagRow& flagRow(cut::Flag flag) noexcept;

/// The flagged passages, counted by kind, worst kind first: "1 tight, 8 steep"; "" when there are none.
std::string flagCounts(const cut::CutSummary& summary);

/// A passage's worst figure with name and unit, e.g. "land -3.2 µm"; "" when there is none to show.
std::string worstText(const cut::Passage& passage);

} // namespace headland::log
