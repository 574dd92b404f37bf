// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of one place of a cut: the turns around it in plan, to one scale along and across, as a microscope shows
// them: lands, the two walls of every groove in two shades, bottoms and edges as lines, an overcut filled and hatched;
// with dimensions for land, width, spacing and depth. One drawing, from which both the SVG and the PNG file come. One
// thread.
#pragma once

#include "Console/SvgDrawing.h"
#include "Cut/CutSettings.h"
#include "Cut/GroovePatch.h"

#include <string>

namespace headland::console {

/// What is drawn.
struct GroovePictureContent {
    std::string fileName; ///< of the program, as shown to a person
    const cut::CutSettings& settings;
    const cut::GroovePatch& patch;
    std::string source; ///< where the edges came from, e.g. "edges kept in the log"
};

/// Draws the picture.
SvgDrawing drawGroovePicture(const GroovePictureContent& content);

} // namespace headland::console
