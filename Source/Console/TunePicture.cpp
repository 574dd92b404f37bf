// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/TunePicture.h"

#include "Console/Panel.h"
#include "Console/PictureColours.h"
#include "Console/TuneText.h"
#include "Cut/TapePath.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <cmath>

namespace headland::console {

using text::fixed;
using text::plain;
using text::sideLength;

namespace {

constexpr Paint recommendedPaint{.stroke = orange, .strokeWidth = 5};
constexpr Paint asSetPaint{.stroke = black, .strokeWidth = 1.5, .dashes = "3 5"};
constexpr Paint setLandPaint{.stroke = vermilion, .strokeWidth = 1.5, .dashes = "9 5"};
constexpr double mm_per_m = 1000;

PictureTitle titleOf(const TuneReport& report) {
    const auto& settings = report.settings;
    return {report.program.fileName,
            "What preview delay is worth having? " + std::string(settings.discFormat().name) + "; program "
                + sideLength(report.program.length_s) + "; disc level " + fixed(settings.disc_level_db, 1)
                + " dB",
            headline(report) + ": " + recommendation(report)};
}

std::vector<ChartMark> marksOf(const TuneReport& report) {
    const auto& best = report.best();
    const auto& set = report.trials[report.asSet];
    return {{best.delay_s,
             (best.canBeCut() ? "recommended, " : "best of them, ") + delayText(best.delay_s, best.turns),
             recommendedPaint},
            {set.delay_s, "as set, " + delayText(set.delay_s, set.turns), asSetPaint}};
}

std::vector<AcrossScale> scalesOf(const TuneReport& report) {
    const auto turn_s = report.settings.turn_s();
    const auto decimals = delayDecimals(report);
    std::vector<AcrossScale> scales{
        {"preview delay, s", [decimals](double delay_s) { return fixed(delay_s, decimals); }},
        {"turns", [turn_s](double delay_s) { return fixed(delay_s / turn_s, 2); }}};
    for (const auto& speed : cut::tapeSpeeds)
        scales.push_back({"tape at " + std::string(speed.name) + " cm/s, m", [&speed](double delay_s) {
                              return fixed(cut::tapePath_mm(delay_s, speed) / mm_per_m, 2);
                          }});
    return scales;
}

/// One figure of every trial.
template <typename Figure>
std::vector<double> figures(const TuneReport& report, Figure figure) {
    std::vector<double> values;
    for (const auto& trial : report.trials)
        values.push_back(figure(trial));
    return values;
}

TrialPanel usedPanel(const TuneReport& report) {
    TrialPanel panel{"disc used by the program, mm of radius (right: diameter where it ends, mm)",
                     figures(report, [](const DelayTrial& trial) { return trial.summary.used_mm; }),
                     {}};
    panel.onRight = [start_mm = report.settings.start_radius_mm](double used_mm) {
        return fixed(2 * (start_mm - used_mm), 1);
    };
    panel.height = 2;
    return panel;
}

TrialPanel landPanel(const TuneReport& report) {
    const auto set_um = report.settings.land_min_um;
    return {"least land, µm",
            figures(report,
                    [](const DelayTrial& trial) {
                        return trial.summary.landLeast.valid ? trial.summary.landLeast.value : NAN;
                    }),
            {{set_um, "set land, " + plain(set_um) + " µm", setLandPaint},
             {0, "zero: below it, overcut", zeroPaint}}};
}

TrialPanel shortfallPanel(const TuneReport& report) {
    TrialPanel panel{"greatest shortfall of demands known too late, µm",
                     figures(report,
                             [](const DelayTrial& trial) {
                                 return trial.isShort() ? trial.summary.shortfallGreatest.value : 0.0;
                             }),
                     {}};
    panel.fromZeroTo = 10;
    return panel;
}

TrialPanel passagePanel(const TuneReport& report) {
    TrialPanel panel{"passages with such a shortfall",
                     figures(report,
                             [](const DelayTrial& trial) {
                                 return static_cast<double>(
                                     trial.summary.flaggedPassages[cut::indexOf(cut::Flag::previewShort)]);
                             }),
                     {}};
    panel.fromZeroTo = 5;
    return panel;
}

} // namespace

TrialChart tuneChart(const TuneReport& report) {
    const auto turn_s = report.settings.turn_s();
    TrialChart chart;
    chart.title = titleOf(report);
    for (const auto& trial : report.trials) {
        chart.across.push_back(trial.delay_s);
        chart.canBeCut.push_back(trial.canBeCut());
    }
    for (const auto turns : cut::delays_turns)
        chart.ticks.push_back(turns * turn_s);
    chart.scales = scalesOf(report);
    chart.marks = marksOf(report);
    chart.panels = {usedPanel(report), landPanel(report), shortfallPanel(report), passagePanel(report)};
    return chart;
}

} // namespace headland::console
