// SPDX-License-Identifier: GPL-3.0-or-later
// One panel of the picture: a frame with its two scales, grid, heading and legend, and the ways a decimated series is
// drawn in it. Lengths in px. One thread.
#pragma once

#include "Console/ChartScale.h"
#include "Console/PictureColours.h"
#include "Console/PictureSeries.h"
#include "Console/SvgDrawing.h"

#include <span>
#include <string>
#include <vector>

namespace headland::console {

using PictureBins = std::span<const PictureSeries::Decimator::Bin>;

inline constexpr double headingRoom_px = 34; ///< above every panel

inline constexpr Paint limitPaint{.stroke = vermilion, .strokeWidth = 1.5, .dashes = "9 5"};
inline constexpr Paint zeroPaint{.stroke = black, .strokeWidth = 1.5};

/// One entry of a legend.
struct LegendEntry {
    std::string label;
    Paint paint;
    bool isArea = false; ///< drawn as a patch, otherwise as a line
};

/// Where a panel is and how values become places in it.
struct Panel {
    ChartScale across; ///< what the panel runs over, program time in s or a setting → x
    ChartScale value;  ///< the panel's quantity → y

    double left() const noexcept { return across.atLeast_px; }
    double right() const noexcept { return across.atGreatest_px; }
    double top() const noexcept { return value.atGreatest_px; }
    double bottom() const noexcept { return value.atLeast_px; }
};

/// Background, grid lines at the ticks, and the numbers of the left-hand scale.
void drawFrame(SvgDrawing& drawing, const Panel& panel, const std::vector<double>& acrossTicks,
               const std::vector<double>& valueTicks);

/// Heading above the panel's left end ("pitch, µm") and the legend above its right end.
void drawHeading(SvgDrawing& drawing, const Panel& panel, const std::string& heading,
                 const std::vector<LegendEntry>& legend);

/// The bins taken together until each is at least `width_px` wide on the panel, so that a busy series is drawn as a line
/// and not as a smear.
std::vector<PictureSeries::Decimator::Bin> widened(const Panel& panel, PictureBins bins, double width_px);

/// The area between the least and the greatest values of every bin.
void drawRange(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint);

/// A line through the means.
void drawMean(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint);

/// A line through the least values.
void drawLeast(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint);

/// The area from the panel's floor up to the greatest values.
void drawArea(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint);

/// A level across the whole panel.
void drawLevel(SvgDrawing& drawing, const Panel& panel, double value, const Paint& paint);

} // namespace headland::console
