// SPDX-License-Identifier: GPL-3.0-or-later
// Dimensions on a drawing: a line with arrow heads from one measured place to another, above or below it, and its figure
// on a plate beside it. Lines that would meet are moved sideways, with witness lines from the places; plates go where they
// cover least. Black on white borders, so that they show on any ground. Lengths in px. One thread.
#pragma once

#include "Console/SvgDrawing.h"
#include "Cut/GrooveScale.h"

#include <string>
#include <utility>
#include <vector>

namespace headland::console {

using cut::Box;
using SheetPoint = std::pair<double, double>; ///< x and y

/// What is to be dimensioned: the distance from one place to another nearly above or below it.
struct Dimension {
    SheetPoint from, to;
    std::string label; ///< with its figure and unit
};

/// Draws the dimensions, the first ones where they belong and the others clear of them: lines inside `view`, plates inside
/// `room`, which must have room for them. Nothing goes where something is `taken` already. `ink`: points on the lines of the
/// drawing that plates should rather not cover.
void drawDimensions(SvgDrawing& drawing, const Box& view, const Box& room,
                    const std::vector<Dimension>& dimensions, const std::vector<SheetPoint>& ink,
                    std::vector<Box> taken);

/// A straight arrow.
void drawArrow(SvgDrawing& drawing, SheetPoint from, SheetPoint to);

} // namespace headland::console
