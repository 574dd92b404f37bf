// SPDX-License-Identifier: GPL-3.0-or-later
// The picture of a cut: pitch with the demand behind it, depth, least land and diameter against program time, to
// scale, with the flagged passages below, marked by shape and name as well as colour. One drawing, from which both the
// SVG and the PNG file come. One thread.
#pragma once

#include "Console/PictureSeries.h"
#include "Console/SvgDrawing.h"
#include "Cut/CutSummary.h"

#include <span>
#include <string>

namespace headland::console {

/// What is drawn.
struct PictureContent {
    std::string fileName; ///< of the program, as shown to a person
    const cut::CutSettings& settings;
    const cut::CutSummary& summary;
    std::span<const PictureSeries::Decimator::Bin> bins;
};

inline constexpr int pictureWidth_px = 1600;
inline constexpr double scaleRoom_px = 124;                        ///< beside the panels, for a scale
inline constexpr double right_px = pictureWidth_px - scaleRoom_px; ///< of the panels
inline constexpr int pictureHeight_px = 1000;

/// Draws the picture.
SvgDrawing drawPicture(const PictureContent& content);

} // namespace headland::console
