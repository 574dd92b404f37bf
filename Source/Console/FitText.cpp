// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/FitText.h"

#include "Console/SummaryText.h"
#include "Console/TextTable.h"
#include "Cut/SettingsTable.h"
#include "Cut/SlopeLimit.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>

namespace headland::console {

using text::counted;
using text::diameterText;
using text::fixed;
using text::linesPerInch;
using text::minutesTenths;
using text::plain;
using text::sideLength;

namespace {

std::string place(double time_s, double diameter_mm) {
    return " at " + minutesTenths(time_s) + ", diameter " + diameterText(diameter_mm);
}

/// "the slope is 1.012 (limit 1.000) at 3:36.0, diameter 268.9 mm"
std::string faultText(const Fault& fault) {
    const auto where = place(fault.time_s, fault.diameter_mm);
    switch (fault.limit) {
    case Limit::disc:
        return "the program goes " + fixed(-fault.value, 3)
               + " mm beyond the innermost allowed radius, which it reaches" + where;
    case Limit::land:
        return "the land is " + fixed(fault.value, 1) + " µm (set: " + plain(fault.allowed) + ")" + where;
    case Limit::lift:
        return "the stylus lifts, by " + fixed(-fault.value / 2, 1) + " µm," + where;
    case Limit::depth:
        return "the groove is " + fixed(fault.value, 1) + " µm deep (limit " + plain(fault.allowed) + ")"
               + where;
    case Limit::width:
        return "the groove is " + fixed(fault.value, 1) + " µm wide (set: " + plain(fault.allowed) + ")"
               + where;
    case Limit::slope:
        return "the slope is " + fixed(fault.value, 3) + " (limit " + fixed(fault.allowed, 3) + ")" + where;
    }
    return "";
}

std::string faultsText(const FitTrial& trial) {
    std::string text;
    for (const auto& fault : trial.faults)
        text += (text.empty() ? "" : ", and ") + faultText(fault);
    return text;
}

bool has(const FitTrial& trial, Limit limit) {
    return std::any_of(trial.faults.begin(), trial.faults.end(),
                       [limit](const Fault& fault) { return fault.limit == limit; });
}

/// What would help a side that is spoilt at every level.
std::string adviceOnLevel(const FitTrial& trial) {
    if (has(trial, Limit::disc))
        return "shorten the program, or lower land_min_um, depth_basic_um or pitch_min_um";
    if (has(trial, Limit::land))
        return "lengthen preview_s, or raise pitch_max_um or the slew of a lathe that can do more";
    if (has(trial, Limit::slope) || has(trial, Limit::depth))
        return "lower reference_velocity_cm_s";
    return "raise depth_basic_um, depth_max_um or depth_slew_um_s";
}

/// What would help a side that is spoilt at every land or depth.
std::string adviceOnOther(const FitTrial& trial, const FitQuantity& quantity) {
    const std::string noun(quantity.noun), level = "vary the level instead (--vary level)";
    if (has(trial, Limit::slope))
        return "the slope does not depend on the " + noun
               + ", which only moves the place a little further in or out: " + level;
    if (has(trial, Limit::depth))
        return "the greatest depth is the program's and that of the narrowest groove allowed: " + level
               + ", or allow a narrower one";
    if (has(trial, Limit::disc))
        return "the rest is the program's: " + level + ", or shorten it";
    if (has(trial, Limit::land))
        return "a land that is missed whatever the " + noun
               + " is demanded too late or needs more than the greatest pitch: " + level
               + ", or lengthen preview_s";
    if (quantity.vary == Vary::depth)
        return "it would have to be deeper: " + level + ", or raise depth_max_um or depth_slew_um_s";
    return "the width does not depend on the " + noun + ": " + level + ", or raise depth_basic_um";
}

std::string advice(const FitTrial& trial, const FitQuantity& quantity) {
    return quantity.vary == Vary::level ? adviceOnLevel(trial) : adviceOnOther(trial, quantity);
}

std::string noneSentence(const FitResult& result) {
    const auto& quantity = *result.quantity;
    const auto at = [&](const FitTrial& trial) { return valueText(quantity, trial.tenths); };
    const auto none = "No " + std::string(quantity.noun) + " will do: ";
    const auto *below = result.below(), *above = result.above();
    if (below == nullptr)
        return none + "even at " + at(*above) + ", the least, " + faultsText(*above) + "; "
               + advice(*above, quantity) + ".";
    if (above == nullptr)
        return none + "even at " + at(*below) + ", the greatest, " + faultsText(*below) + "; "
               + advice(*below, quantity) + ".";
    return none + "at " + at(*below) + " " + faultsText(*below) + ", and at " + at(*above) + " "
           + faultsText(*above) + "; " + advice(*above, quantity) + ".";
}

std::string thing(Limit limit) {
    return limit == Limit::lift || limit == Limit::depth ? "depth of the groove"
           : limit == Limit::width                       ? "width of the groove"
                                                         : std::string(name(limit));
}

/// "The slope" or "The disc and the land", as the beginning of a sentence.
std::string things(const std::vector<Fault>& faults) {
    std::string text;
    for (const auto& fault : faults)
        text += (text.empty() ? "The " : " and the ") + thing(fault.limit);
    return text;
}

std::string figure(const cut::Extreme& extreme, int decimals) {
    return extreme.valid ? fixed(extreme.value, decimals) : "-";
}

std::string wrongText(const FitTrial& trial, const FitResult& result) {
    if (&trial == result.best())
        return "nothing: the answer";
    std::string text;
    for (const auto& fault : trial.faults)
        text += (text.empty() ? "" : ", ") + std::string(name(fault.limit));
    return text.empty() ? "nothing" : text;
}

TextRow trialRow(const FitTrial& trial, const FitResult& result) {
    const auto& summary = trial.summary;
    return {fixed(trial.tenths / perTenth, 1),
            summary.endDiameter_mm > 0 ? fixed(summary.endDiameter_mm, 1) : "past middle",
            figure(summary.landLeast, 1),
            figure(summary.widthLeast, 1),
            figure(summary.slopeGreatest, 3),
            fixed(summary.pitchMean_um, 1),
            linesPerInch(summary.pitchMean_um),
            wrongText(trial, result)};
}

std::string trialTable(const FitResult& result) {
    std::vector<TextRow> rows{
        {std::string(result.quantity->noun), "end diameter", "least land", "narrowest", "steepest",
         "mean pitch", "lines", "wrong there"},
        {std::string(result.quantity->unit), "mm", "µm", "µm", "slope", "µm", "per inch"}};
    for (const auto& trial : result.trials)
        rows.push_back(trialRow(trial, result));
    return tableText(rows);
}

std::string headText(const FitReport& report) {
    const auto& result = report.result;
    return labelled("Program", files::describe(report.program) + ", " + sideLength(report.program.length_s))
           + labelled("Disc", std::string(report.settings.discFormat().name))
           + labelled("Varied", std::string(result.quantity->noun) + ", between "
                                    + fixed(result.range.least / perTenth, 1) + " and "
                                    + valueText(*result.quantity, result.range.greatest) + "; "
                                    + heldText(report) + " held")
           + labelled("Clean is", "on the disc, least land not below the set land, groove not below "
                                      + plain(report.settings.width_min_um) + " µm (each by more than "
                                      + plain(cut::planTolerance_um) + " µm), not deeper than "
                                      + plain(report.settings.depth_peak_max_um)
                                      + " µm with the program, slope not above "
                                      + fixed(cut::slopeLimit(report.settings), 2) + ", no lifted cut");
}

std::string paragraph(const std::string& text) {
    return text.empty() ? "" : "\n" + wrapped(text, textColumns) + "\n";
}

} // namespace

std::string answerSentence(const FitReport& report) {
    const auto& result = report.result;
    const auto* best = result.best();
    if (best == nullptr)
        return noneSentence(result);
    const auto& summary = best->summary;
    return "The " + std::string(result.quantity->superlative) + " " + std::string(result.quantity->noun)
           + " at which the side is clean is " + valueText(*result.quantity, best->tenths) + ": it ends at "
           + diameterText(summary.endDiameter_mm) + " diameter"
           + (summary.landLeast.valid ? " with " + fixed(summary.landLeast.value, 1) + " µm least land" : "")
           + ".";
}

std::string limitSentence(const FitReport& report) {
    const auto& result = report.result;
    if (result.best() == nullptr)
        return "";
    if (result.above() == nullptr)
        return "Nothing gives way there, it is the end of the range: " + result.range.whyNoMore;
    const auto& above = *result.above();
    return things(above.faults) + (above.faults.size() > 1 ? " give" : " gives") + " way first: at "
           + valueText(*result.quantity, above.tenths) + " " + faultsText(above) + ".";
}

std::string cautionSentences(const FitReport& report) {
    const auto* best = report.result.best();
    if (best == nullptr)
        return "";
    const auto& summary = best->summary;
    std::string text;
    if (const auto passages = summary.flaggedPassages[cut::indexOf(cut::Flag::tight)]; passages > 0) {
        const auto& tightest = summary.curvatureLeast;
        text = "Caution: there the radius of curvature is below the playback tip's "
               + plain(report.settings.tip_radius_um) + " µm in " + counted(passages, "passage") + ", "
               + fixed(tightest.value, 1) + " µm at the tightest,"
               + place(tightest.time_s, 2 * tightest.radius_mm) + "; that is no limit here.";
    }
    if (summary.flaggedSectors[cut::indexOf(cut::Flag::badSample)] > 0)
        text += (text.empty() ? "" : " ")
                + std::string("Caution: samples of the program that are not a number, infinite or "
                              "absurd were cut as silence; `headland cut` says where.");
    return text;
}

std::string heldText(const FitReport& report) {
    std::string text;
    for (const auto& quantity : fitQuantities())
        if (&quantity != report.result.quantity)
            text += (text.empty() ? "" : ", ") + std::string(quantity.noun) + " "
                    + plain(cut::getNumber(report.settings, *cut::findSetting(quantity.key))) + " "
                    + std::string(quantity.unit);
    return text;
}

std::string fitText(const FitReport& report) {
    return headText(report) + "\n" + trialTable(report.result) + paragraph(answerSentence(report))
           + paragraph(limitSentence(report)) + paragraph(cautionSentences(report))
           + paragraph(std::string(caution));
}

} // namespace headland::console
