// SPDX-License-Identifier: GPL-3.0-or-later
// What stands above a picture: whose it is, what was set, and the result in a sentence. Lengths in px. One thread.
#pragma once

#include "Console/SvgDrawing.h"

#include <string>

namespace headland::console {

struct PictureTitle {
    std::string fileName; ///< of the program; shortened in its middle where it is too long
    std::string settings; ///< one line
    std::string result;   ///< broken into as many lines as it takes
};

/// The text cut to fit `room_px` in bold, its middle left out, so that the ending stays.
std::string shortened(const std::string& text, double size_px, double room_px);

/// Draws it between these places; returns the baseline of the last line.
double drawTitle(SvgDrawing& drawing, double left_px, double right_px, const PictureTitle& title);

} // namespace headland::console
