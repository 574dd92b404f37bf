// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of a search: end diameter, mean pitch, least land, narrowest groove and steepest slope against what was
// varied, with the limits and the answer. One drawing for SVG and PNG. One thread.
#pragma once

#include "Console/FitReport.h"
#include "Console/SvgDrawing.h"

namespace headland::console {

SvgDrawing drawFitPicture(const FitReport& report);

} // namespace headland::console
