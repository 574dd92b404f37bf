// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/FitPicture.h"

#include "Console/ChartScale.h"
#include "Console/FitText.h"
#include "Console/Panel.h"
#include "Console/PictureColours.h"
#include "Console/TrialChart.h"
#include "Cut/CutFrame.h"
#include "Cut/SettingsTable.h"
#include "Cut/SlopeLimit.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <cmath>
#include <functional>

namespace headland::console {

using text::fixed;
using text::linesPerInch;
using text::plain;
using text::sideLength;

namespace {

constexpr int acrossTicksMax = 16;
constexpr Paint plainPaint{.stroke = black, .strokeWidth = 1.5};
constexpr Paint answerPaint{.stroke = green, .strokeWidth = 2.5};
constexpr Paint presentPaint{.stroke = grey, .strokeWidth = 1.5, .dashes = "3 3"};

using TrialFigure = std::function<double(const FitTrial&)>;

std::vector<double> valuesOf(const FitResult& result, const TrialFigure& figure) {
    std::vector<double> values;
    for (const auto& trial : result.trials)
        values.push_back(figure(trial));
    return values;
}

double orNone(const cut::Extreme& extreme) {
    return extreme.valid ? extreme.value : NAN;
}

TrialPanel diameterPanel(const FitReport& report) {
    const auto innermost_mm = 2 * report.settings.end_radius_mm;
    TrialPanel panel;
    panel.heading = "end diameter, mm";
    panel.values =
        valuesOf(report.result, [](const FitTrial& trial) { return trial.summary.endDiameter_mm; });
    panel.levels = {{innermost_mm, "innermost allowed, " + plain(innermost_mm) + " mm", limitPaint}};
    panel.height = 1.4;
    return panel;
}

TrialPanel pitchPanel(const FitReport& report) {
    TrialPanel panel;
    panel.heading = "mean pitch, µm per turn (right: lines per inch)";
    panel.values = valuesOf(report.result, [](const FitTrial& trial) { return trial.summary.pitchMean_um; });
    panel.onRight = [](double pitch_um) { return linesPerInch(pitch_um) + " lpi"; };
    return panel;
}

/// Where land is varied, the set land is another at every trial: then what is shown is how far the least is from it.
TrialPanel landPanel(const FitReport& report) {
    const auto isVaried = report.result.quantity->vary == Vary::land;
    const auto set_um = report.settings.land_min_um;
    TrialPanel panel;
    panel.heading = isVaried ? "least land above the set land, µm" : "least land, µm";
    panel.values = valuesOf(report.result, [isVaried](const FitTrial& trial) {
        return orNone(trial.summary.landLeast) - (isVaried ? trial.settings.land_min_um : 0);
    });
    if (isVaried)
        panel.levels = {
            {0, "set land", plainPaint},
            {-cut::planTolerance_um, "limit, " + plain(cut::planTolerance_um) + " µm below it", limitPaint}};
    else
        panel.levels = {{set_um, "set land, " + plain(set_um) + " µm", limitPaint},
                        {0, "overcut below this", plainPaint}};
    return panel;
}

TrialPanel widthPanel(const FitReport& report) {
    const auto set_um = report.settings.width_min_um;
    TrialPanel panel;
    panel.heading = "narrowest groove, µm";
    panel.values =
        valuesOf(report.result, [](const FitTrial& trial) { return orNone(trial.summary.widthLeast); });
    panel.levels = {{set_um, "set width, " + plain(set_um) + " µm", limitPaint}};
    return panel;
}

TrialPanel slopePanel(const FitReport& report) {
    const auto limit = cut::slopeLimit(report.settings);
    TrialPanel panel;
    panel.heading = "steepest slope";
    panel.values =
        valuesOf(report.result, [](const FitTrial& trial) { return orNone(trial.summary.slopeGreatest); });
    panel.levels = {{limit, "limit, " + fixed(limit, 2), limitPaint}};
    panel.fromZeroTo = limit;
    return panel;
}

std::vector<ChartMark> marksOf(const FitReport& report) {
    const auto& result = report.result;
    const auto& quantity = *result.quantity;
    const auto present = cut::getNumber(report.settings, *cut::findSetting(quantity.key));
    std::vector<ChartMark> marks{
        {present, "as set, " + plain(present) + " " + std::string(quantity.unit), presentPaint}};
    if (const auto* best = result.best())
        marks.push_back(
            {best->tenths / perTenth, "the answer, " + valueText(quantity, best->tenths), answerPaint});
    return marks;
}

} // namespace

SvgDrawing drawFitPicture(const FitReport& report) {
    const auto& result = report.result;
    const std::string noun(result.quantity->noun);
    TrialChart chart;
    chart.title = {report.program.fileName,
                   std::string(report.settings.discFormat().name) + "; program "
                       + sideLength(report.program.length_s) + "; " + noun + " varied, " + heldText(report)
                       + " held",
                   answerSentence(report)};
    for (const auto& trial : result.trials) {
        chart.across.push_back(trial.tenths / perTenth);
        chart.canBeCut.push_back(trial.isClean());
    }
    chart.goodName = "clean";
    chart.badName = "not clean";
    chart.ticks = roundTicks(chart.across.front(), chart.across.back(), acrossTicksMax);
    chart.scales = {{noun + ", " + std::string(result.quantity->unit),
                     [decimals = decimalsFor(chart.ticks)](double value) { return fixed(value, decimals); }}};
    chart.marks = marksOf(report);
    chart.panels = {diameterPanel(report), pitchPanel(report), landPanel(report), widthPanel(report),
                    slopePanel(report)};
    return drawTrialChart(chart);
}

} // namespace headland::console
