// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/TrialChart.h"

#include "Console/Panel.h"
#include "Console/Picture.h"
#include "Console/PictureColours.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace headland::console {

namespace {

constexpr double chartLeft_px = 236; ///< the names of the scales stand there
constexpr double scaleLine_px = 20;
constexpr double tickRoom_px = 58; ///< between two figures below the panels, at least
constexpr double point_px = 9;
constexpr int valueTicksMax = 7;

constexpr Paint curvePaint{.stroke = blue, .strokeWidth = 2};
constexpr Paint goodPaint{.fill = blue};
constexpr Paint badPaint{.fill = "#ffffff", .stroke = vermilion, .strokeWidth = 2};

struct ValueRange {
    double least = std::numeric_limits<double>::infinity();
    double greatest = -std::numeric_limits<double>::infinity();

    void take(double value) {
        if (!std::isfinite(value))
            return;
        least = std::min(least, value);
        greatest = std::max(greatest, value);
    }
};

/// What the panel's scale spans: all it shows, and a little more.
ValueRange rangeOf(const TrialPanel& panel) {
    ValueRange range;
    for (const auto value : panel.values)
        range.take(value);
    for (const auto& level : panel.levels)
        range.take(level.value);
    const auto fromZero = panel.fromZeroTo > 0;
    if (fromZero || range.least > range.greatest)
        range.take(0);
    if (fromZero)
        range.take(panel.fromZeroTo);
    const auto span = range.greatest - range.least;
    const auto margin = span > 0 ? 0.08 * span : std::max(1e-6, 0.05 * std::abs(range.greatest));
    range.greatest += margin;
    range.least -= fromZero && range.least >= 0 ? 0 : margin;
    return range;
}

/// The setting's scale, with room for half a point on either side.
ChartScale acrossScale(const TrialChart& chart) {
    const auto [least, greatest] = std::minmax_element(chart.across.begin(), chart.across.end());
    const auto span = *greatest - *least;
    const auto margin = span > 0 ? 0.02 * span : std::max(1e-6, 0.05 * std::abs(*least));
    return {*least - margin, *greatest + margin, chartLeft_px, right_px};
}

/// The ticks on the scale that are far enough from each other to be named.
std::vector<double> ticksWithRoom(const std::vector<double>& ticks, const ChartScale& across) {
    std::vector<double> kept;
    for (const auto tick : ticks)
        if (tick >= across.least && tick <= across.greatest
            && (kept.empty() || across(tick) - across(kept.back()) >= tickRoom_px))
            kept.push_back(tick);
    return kept;
}

/// Straight lines through the points; a trial without a value breaks them.
std::string curveData(const Panel& panel, const TrialChart& chart, const std::vector<double>& values) {
    std::string data;
    auto isOpen = false;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const auto has = std::isfinite(values[i]);
        if (has)
            data += (isOpen ? "L" : "M") + coordinate(panel.across(chart.across[i])) + " "
                    + coordinate(panel.value(values[i]));
        isOpen = has;
    }
    return data;
}

void drawPoint(SvgDrawing& drawing, double x, double y, bool isGood) {
    drawing.rectangle(x - point_px / 2, y - point_px / 2, point_px, point_px, isGood ? goodPaint : badPaint);
}

void drawPoints(SvgDrawing& drawing, const Panel& panel, const TrialChart& chart,
                const std::vector<double>& values) {
    for (std::size_t i = 0; i < values.size(); ++i)
        if (std::isfinite(values[i]))
            drawPoint(drawing, panel.across(chart.across[i]), panel.value(values[i]), chart.canBeCut[i]);
}

void drawRightScale(SvgDrawing& drawing, const Panel& panel, const TrialPanel& content,
                    const std::vector<double>& ticks) {
    if (!content.onRight)
        return;
    for (const auto tick : ticks)
        drawing.text(panel.right() + 8, panel.value(tick) + 0.35 * label_px, content.onRight(tick),
                     {.size_px = label_px});
}

void drawPanel(SvgDrawing& drawing, const Panel& panel, const TrialChart& chart, const TrialPanel& content,
               const std::vector<double>& acrossTicks) {
    const auto ticks = roundTicks(panel.value.least, panel.value.greatest, valueTicksMax);
    drawFrame(drawing, panel, acrossTicks, ticks);
    drawRightScale(drawing, panel, content, ticks);
    std::vector<LegendEntry> legend;
    for (const auto& level : content.levels) {
        drawLevel(drawing, panel, level.value, level.paint);
        legend.push_back({level.label, level.paint});
    }
    for (const auto& mark : chart.marks)
        drawing.line(panel.across(mark.across), panel.top(), panel.across(mark.across), panel.bottom(),
                     mark.paint);
    drawing.path(curveData(panel, chart, content.values), curvePaint);
    drawPoints(drawing, panel, chart, content.values);
    drawHeading(drawing, panel, content.heading, legend);
}

/// Names the marks and the kinds of point, in one line.
void drawKey(SvgDrawing& drawing, const TrialChart& chart, double baseline) {
    constexpr double sample_px = 26, afterSample_px = 6, afterLabel_px = 30;
    const auto middle = baseline - 0.35 * label_px;
    auto x = chartLeft_px;
    const auto name = [&](const std::string& label) {
        x += sample_px + afterSample_px;
        drawing.text(x, baseline, label, {.size_px = label_px});
        x += textWidth_px(label, label_px) + afterLabel_px;
    };
    for (const auto& mark : chart.marks) {
        drawing.line(x, middle, x + sample_px, middle, mark.paint);
        name(mark.label);
    }
    const auto has = [&](bool good) {
        return std::find(chart.canBeCut.begin(), chart.canBeCut.end(), good) != chart.canBeCut.end();
    };
    for (const auto isGood : {true, false})
        if (has(isGood)) {
            drawPoint(drawing, x + sample_px / 2, middle, isGood);
            name(isGood ? chart.goodName : chart.badName);
        }
}

void drawScales(SvgDrawing& drawing, const TrialChart& chart, const ChartScale& across,
                const std::vector<double>& ticks, double top_px) {
    auto baseline = top_px + scaleLine_px;
    for (const auto& scale : chart.scales) {
        drawing.text(chartLeft_px - 8, baseline, scale.name,
                     {.size_px = label_px, .anchor = "end", .bold = true});
        for (const auto tick : ticks)
            drawing.text(across(tick), baseline, scale.text(tick), {.size_px = label_px, .anchor = "middle"});
        baseline += scaleLine_px;
    }
}

} // namespace

SvgDrawing drawTrialChart(const TrialChart& chart) {
    SvgDrawing drawing(pictureWidth_px, pictureHeight_px);
    const auto titleEnd = drawTitle(drawing, chartLeft_px, right_px, chart.title);
    const auto keyBaseline = titleEnd + 28;
    drawKey(drawing, chart, keyBaseline);
    const auto lastEdge = pictureHeight_px - 16.0 - scaleLine_px * static_cast<double>(chart.scales.size());
    auto heights = 0.0;
    for (const auto& panel : chart.panels)
        heights += panel.height;
    const auto room = lastEdge - keyBaseline - headingRoom_px * static_cast<double>(chart.panels.size());
    const auto across = acrossScale(chart);
    const auto ticks = ticksWithRoom(chart.ticks, across);
    auto top = keyBaseline;
    for (const auto& content : chart.panels) {
        top += headingRoom_px;
        const auto bottom = top + std::floor(room * content.height / heights);
        const auto range = rangeOf(content);
        drawPanel(drawing, {across, {range.least, range.greatest, bottom, top}}, chart, content, ticks);
        top = bottom;
    }
    drawScales(drawing, chart, across, ticks, top);
    return drawing;
}

} // namespace headland::console
