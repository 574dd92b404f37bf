// SPDX-License-Identifier: GPL-3.0-or-later
// The lower part of the picture: one lane for every kind of flag that was raised, named at its left, with a bar as long
// as each passage, a mark of the kind's own shape on it, and the number of passages at its right. One thread.
#pragma once

#include "Console/Panel.h"
#include "Cut/CutSummary.h"

namespace headland::console {

inline constexpr double laneHeight_px = 18;

/// Kinds of flag that were raised in this cut.
int laneCount(const cut::CutSummary& summary) noexcept;

/// Draws the lanes from the top of `panel` down; its value scale is not used.
void drawFlagLanes(SvgDrawing& drawing, const Panel& panel, PictureBins bins, const cut::CutSummary& summary);

/// Draws a pale line down the whole of `panel` wherever the cut is spoilt, overcut or lifted; none at all when there
/// are more than `placesMax` of them, which would hide the curves.
void drawSpoiltPlaces(SvgDrawing& drawing, const Panel& panel, PictureBins bins, std::size_t placesMax);

} // namespace headland::console
