// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/SummaryText.h"

#include "Cut/SlopeLimit.h"
#include "Log/FlagTable.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

namespace headland::console {

using text::columnsOf;
using text::counted;
using text::diameterText;
using text::fixed;
using text::linesPerInch;
using text::minutesSeconds;
using text::minutesTenths;
using text::padded;
using text::plain;
using text::sideLength;

namespace {

constexpr std::size_t labelColumns = 17;

/// " at 3:12.4, diameter 270.1 mm"
std::string place(const cut::Extreme& extreme) {
    return " at " + minutesTenths(extreme.time_s) + ", diameter " + diameterText(2 * extreme.radius_mm);
}

std::string rehearsalRow(const cut::ProfileUse& use) {
    if (!use.wasGiven)
        return {};
    if (!use.wasUsed)
        return labelled("Rehearsal",
                        "not used: it was heard with another high-pass (highpass_hz); rehearse again");
    if (use.isDropped)
        return labelled("Rehearsal", "left out from " + minutesTenths(use.dropped_s)
                                         + " on: it was of something else than is heard here");
    return labelled("Rehearsal", "heard before it was cut, so planned further ahead");
}

std::string programRows(const CutReport& report) {
    const auto& summary = report.summary;
    return labelled("Program", files::describe(report.program))
           + labelled("Disc", std::string(report.settings.discFormat().name) + ", disc level "
                                  + plain(report.settings.disc_level_db) + " dB")
           + rehearsalRow(report.outcome.profile)
           + labelled("Side length",
                      sideLength(report.program.length_s) + ", " + fixed(summary.turns, 1) + " turns")
           + labelled("Diameter",
                      fixed(summary.startDiameter_mm, 1) + " mm at the start, "
                          + fixed(summary.endDiameter_mm, 1) + " mm at the end"
                          + (summary.finishingDiameter_mm > 0
                                 ? ", finishing groove at " + fixed(summary.finishingDiameter_mm, 1) + " mm"
                                 : ", no finishing groove"));
}

std::string leftText(const CutReport& report) {
    if (report.summary.discEnd.valid)
        return "none: the disc ended at " + minutesTenths(report.summary.discEnd.time_s) + ", diameter "
               + diameterText(2 * report.summary.discEnd.value);
    if (!report.summary.fits)
        return "none: the program goes " + fixed(report.tooLong_mm(), 2)
               + " mm beyond the innermost allowed radius";
    const auto& last = report.estimates.last();
    return fixed(report.summary.left_mm, 2) + " mm of radius, " + fixed(report.summary.left_cm2, 1) + " cm²"
           + (last.seen ? ", " + minutesSeconds(60 * last.estimate.left_min) + " at the going rate" : "");
}

std::string discRows(const CutReport& report) {
    return labelled("Disc used", fixed(report.summary.used_mm, 2) + " mm of radius, "
                                     + fixed(report.summary.used_cm2, 1) + " cm²")
           + labelled("Disc left", leftText(report));
}

std::string pitchText(double pitch_um) {
    return fixed(pitch_um, 1) + " µm (" + linesPerInch(pitch_um) + " lines per inch)";
}

std::string grooveRows(const cut::CutSummary& summary) {
    return labelled("Pitch", "mean " + pitchText(summary.pitchMean_um) + ", least "
                                 + pitchText(summary.pitchLeast_um) + ", greatest "
                                 + pitchText(summary.pitchGreatest_um))
           + labelled("Pitch travel", fixed(summary.pitchTravel_um, 1) + " µm up and down a turn")
           + labelled("Depth", "mean " + fixed(summary.depthMean_um, 1) + " µm, least "
                                   + fixed(summary.depthLeast_um, 1) + " µm, greatest "
                                   + fixed(summary.depthGreatest_um, 1) + " µm");
}

/// A row for an extreme, or for there being none.
std::string extremeRow(std::string_view label, const cut::Extreme& extreme, const std::string& figure) {
    if (!extreme.valid)
        return labelled(label, "none: there is too little program");
    return labelled(label, figure + place(extreme));
}

/// Of curvature, beside the tip that must follow it: beyond 10 mm the groove is as good as straight, and more digits would
/// say nothing.
std::string radiusText(double radius_um, double tip_um) {
    return "radius of curvature "
           + (radius_um > 1e4 ? "more than 10 mm (playback tip " + plain(tip_um) + " µm)"
                              : fixed(radius_um, 1) + " µm (playback tip " + plain(tip_um) + ")");
}

std::string extremeRows(const CutReport& report) {
    const auto& summary = report.summary;
    const auto& settings = report.settings;
    const auto& curvature = summary.curvatureLeast;
    const auto steepest = cut::slopeLimit(settings);
    return extremeRow("Least land", summary.landLeast,
                      fixed(summary.landLeast.value, 1) + " µm (set: " + plain(settings.land_min_um) + ")")
           + extremeRow("Narrowest groove", summary.widthLeast,
                        fixed(summary.widthLeast.value, 1) + " µm (set: " + plain(settings.width_min_um)
                            + ")")
           + extremeRow("Steepest", summary.slopeGreatest,
                        "slope " + fixed(summary.slopeGreatest.value, 2) + " (limit " + fixed(steepest, 2)
                            + ")")
           + extremeRow("Deepest", summary.depthGreatestWithProgram,
                        fixed(summary.depthGreatestWithProgram.value, 1) + " µm with the program (limit "
                            + plain(settings.depth_peak_max_um) + ")")
           + (curvature.valid && !std::isfinite(curvature.value)
                  ? labelled("Tightest", "none: the groove is straight")
                  : extremeRow("Tightest", curvature, radiusText(curvature.value, settings.tip_radius_um)));
}

/// How the estimate did half way, to show how far it can be trusted.
std::string estimateRow(const CutReport& report) {
    const auto& half = report.estimates.forecasts()[1];
    if (report.summary.discEnd.valid || !half.seen || half.estimate.endDiameter_mm <= 0
        || report.summary.endDiameter_mm <= 0)
        return "";
    return labelled("Estimate", "half way it said " + fixed(half.estimate.endDiameter_mm, 1) + " ± "
                                    + fixed(half.estimate.endDiameterUncertainty_mm, 1) + " mm end diameter ("
                                    + disc::nameOf(half.estimate.grade) + "); it was "
                                    + fixed(report.summary.endDiameter_mm, 1) + " mm");
}

std::size_t rank(cut::Flag flag) {
    return static_cast<std::size_t>(&log::flagRow(flag) - log::flagTable().data());
}

bool isWorse(const cut::Passage& a, const cut::Passage& b) {
    if (a.flag != b.flag)
        return rank(a.flag) < rank(b.flag);
    if (a.worst.valid && b.worst.valid && a.worst.value != b.worst.value)
        return log::flagRow(a.flag).lessIsWorse ? a.worst.value < b.worst.value
                                                : a.worst.value > b.worst.value;
    return a.worst.valid != b.worst.valid ? a.worst.valid : a.start_s < b.start_s;
}

std::string passageLine(const cut::Passage& passage) {
    return "  " + padded(std::string(cut::name(passage.flag)), labelColumns - 2)
           + padded(minutesTenths(passage.start_s) + " to " + minutesTenths(passage.end_s), 20)
           + padded(log::worstText(passage), 22)
           + (passage.worst.valid ? "diameter " + diameterText(2 * passage.worst.radius_mm) : "") + "\n";
}

std::string passageRows(const cut::CutSummary& summary) {
    const auto all = static_cast<long long>(summary.passages.size()) + summary.passagesLeftOut;
    if (all == 0)
        return labelled("Flagged passages", "none");
    auto text = labelled("Flagged passages",
                         std::to_string(all) + " (" + log::flagCounts(summary) + "), worst first:");
    auto ordered = summary.passages;
    std::sort(ordered.begin(), ordered.end(), isWorse);
    const auto listed = std::min(ordered.size(), listedPassagesMax);
    for (std::size_t i = 0; i < listed; ++i)
        text += passageLine(ordered[i]);
    if (const auto more = all - static_cast<long long>(listed); more > 0)
        text += "  and " + std::to_string(more) + " more; --csv and --json give them all\n";
    return text;
}

std::string badSampleRow(const files::CutOutcome& outcome) {
    if (outcome.badSamples == 0)
        return "";
    return labelled("Bad samples", counted(outcome.badSamples, "sample")
                                       + " of the program not a number, infinite or absurd, the first at "
                                       + minutesTenths(outcome.firstBadSample_s) + "; cut as silence");
}

std::string levelText(const CutReport& report) {
    if (!report.level)
        return "";
    const auto& level = *report.level;
    const auto after = " (found by cutting it " + counted(level.runs, "more time") + ")";
    switch (level.outcome) {
    case LevelSearchResult::Outcome::noLevelHelps:
        return "No level helps: even silence of this length would take more disc than there is.";
    case LevelSearchResult::Outcome::notFound:
        return "No disc level was found at which it fits" + after + ".";
    case LevelSearchResult::Outcome::found:
        return "The whole program fits at a disc level of " + fixed(level.level_db, 1) + " dB"
               + (level.isHighest ? "" : " or a little more") + after
               + ". At that level: " + level.cut.verdictLine();
    }
    return "";
}

std::string fitRows(const CutReport& report) {
    if (report.summary.fits)
        return "";
    const auto reckoned = report.summary.notCut_mm > 0;
    return labelled("Too long by", (reckoned ? "about " : "") + fixed(report.tooLong_mm(), reckoned ? 1 : 2)
                                       + " mm of radius" + (reckoned ? " at the mean pitch" : "") + ", "
                                       + minutesTenths(report.tooLong_s()) + " of program")
           + labelled("What would fit", "the first " + sideLength(report.summary.fitLength_s)
                                            + " at this level. " + levelText(report));
}

} // namespace

std::string summaryText(const CutReport& report) {
    return programRows(report) + discRows(report) + grooveRows(report.summary) + extremeRows(report)
           + estimateRow(report) + badSampleRow(report.outcome) + passageRows(report.summary)
           + fitRows(report) + "\n" + wrapped(report.summary.verdictLine(), textColumns) + "\n\n"
           + wrapped(caution, textColumns) + "\n";
}

std::string labelled(std::string_view label, const std::string& text) {
    return wrapped(padded(label, labelColumns) + text, textColumns, labelColumns) + "\n";
}

std::string wrapped(std::string_view text, std::size_t columns, std::size_t indent) {
    std::string result;
    std::size_t used = 0;
    for (auto first = true; first || !text.empty(); first = false) {
        const auto length = std::min(text.find(' '), text.size());
        const auto word = text.substr(0, length);
        if (!first && used + 1 + columnsOf(word) > columns) {
            result += "\n" + std::string(indent, ' ');
            used = indent;
        } else if (!first) {
            result += ' ';
            ++used;
        }
        result += word;
        used += columnsOf(word);
        text.remove_prefix(std::min(length + 1, text.size()));
    }
    return result;
}

} // namespace headland::console
