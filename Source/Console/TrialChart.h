// SPDX-License-Identifier: GPL-3.0-or-later
// A chart of one side cut at several values of one setting: panels one below the other, a curve each with a point for
// every trial, all against that setting, with upright lines at the values that matter. What cannot be cut has points of
// another shape. One drawing for SVG and PNG, as large as the picture of a cut. One thread.
#pragma once

#include "Console/PictureTitle.h"
#include "Console/SvgDrawing.h"

#include <functional>
#include <string>
#include <vector>

namespace headland::console {

/// A level drawn across a panel, named in its legend.
struct ChartLevel {
    double value = 0;
    std::string label;
    Paint paint;
};

/// One panel.
struct TrialPanel {
    std::string heading;        ///< with the unit
    std::vector<double> values; ///< one a trial, NaN where there is none
    std::vector<ChartLevel> levels;
    double fromZeroTo = 0; ///< above 0: the scale begins at zero and reaches this far at least
    std::function<std::string(double value)> onRight =
        {};            ///< the right-hand scale: what stands beside a tick
    double height = 1; ///< share of the room there is
};

/// An upright line across all panels, named below the title.
struct ChartMark {
    double across = 0;
    std::string label;
    Paint paint;
};

/// A line of figures below the panels.
struct AcrossScale {
    std::string name; ///< with the unit
    std::function<std::string(double across)> text;
};

struct TrialChart {
    PictureTitle title;
    std::vector<double> across; ///< the trials' values of the setting, rising
    std::vector<bool> canBeCut; ///< one a trial
    std::string goodName = "can be cut", badName = "cannot be cut"; ///< of the two kinds of point
    std::vector<double> ticks; ///< values to be named below, rising; those without room are passed over
    std::vector<AcrossScale> scales;
    std::vector<ChartMark> marks;
    std::vector<TrialPanel> panels;
};

/// Draws it. There is at least one trial and one panel.
SvgDrawing drawTrialChart(const TrialChart& chart);

} // namespace headland::console
