// SPDX-License-Identifier: GPL-3.0-or-later
// A drawing as a PNG file: the very SVG, read back and painted by JUCE's software renderer. Needs no display. Main
// thread only.
#pragma once

#include "Console/SvgDrawing.h"

#include <string>

namespace headland::console {

/// The bytes of a PNG file of this drawing, one pixel for each of its px. Throws std::runtime_error if JUCE cannot read
/// or store it, which would be a mistake of ours.
std::string pngBytes(const SvgDrawing& drawing);

} // namespace headland::console
