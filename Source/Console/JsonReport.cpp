// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/JsonReport.h"

#include "Console/FlagTable.h"
#include "Console/JsonObject.h"

#include <juce_core/juce_core.h>

#include <cmath>

namespace headland::console {

namespace {

juce::var flagsObject(const cut::CutSummary& summary) {
    JsonObject object;
    for (int bit = 0; bit < cut::flagCount; ++bit) {
        const auto index = static_cast<std::size_t>(bit);
        object.add(cut::name(cut::flagAt(bit)), JsonObject()
                                                    .count("sectors", summary.flaggedSectors[index])
                                                    .count("passages", summary.flaggedPassages[index]));
    }
    return object;
}

juce::var rangeObject(double mean, double least, double greatest) {
    return JsonObject().number("mean", mean).number("least", least).number("greatest", greatest);
}

juce::var summaryObject(const CutReport& report) {
    const auto& summary = report.summary;
    const auto canBeCut = summary.verdict() == cut::Verdict::canBeCut;
    return JsonObject()
        .text("verdict", canBeCut ? "can be cut" : "cannot be cut")
        .text("verdict_line", summary.verdictLine())
        .count("exit_code", static_cast<int>(report.exitCode()))
        .text("exit_meaning", meaningOf(report.exitCode()))
        .number("side_length_s", summary.sideLength_s)
        .number("minutes", summary.sideLength_s / 60)
        .number("turns", summary.turns)
        .count("sectors", summary.sectors)
        .number("start_diameter_mm", summary.startDiameter_mm)
        .number("end_diameter_mm", summary.endDiameter_mm)
        .number("finishing_diameter_mm",
                summary.finishingDiameter_mm > 0 ? summary.finishingDiameter_mm : NAN)
        .number("used_mm", summary.used_mm)
        .number("left_mm", summary.left_mm)
        .number("used_cm2", summary.used_cm2)
        .number("left_cm2", summary.left_cm2)
        .number("left_min", report.estimates.last().seen ? report.estimates.last().estimate.left_min : NAN)
        .number("pitch_mean_um", summary.pitchMean_um)
        .number("pitch_least_um", summary.pitchLeast_um)
        .number("pitch_greatest_um", summary.pitchGreatest_um)
        .add("lines_per_inch", rangeObject(25400 / summary.pitchMean_um, 25400 / summary.pitchGreatest_um,
                                           25400 / summary.pitchLeast_um))
        .number("depth_mean_um", summary.depthMean_um)
        .number("depth_least_um", summary.depthLeast_um)
        .number("depth_greatest_um", summary.depthGreatest_um)
        .add("land_least", extremeObject(summary.landLeast, "land_um"))
        .add("width_least", extremeObject(summary.widthLeast, "width_um"))
        .add("slope_greatest", extremeObject(summary.slopeGreatest, "slope"))
        .add("curvature_least", extremeObject(summary.curvatureLeast, "radius_um"))
        .add("shortfall_greatest", extremeObject(summary.shortfallGreatest, "shortfall_um"))
        .add("flags", flagsObject(summary));
}

juce::var fitObject(const CutReport& report) {
    JsonObject object;
    object.truth("fits", report.summary.fits)
        .number("too_long_mm", report.tooLong_mm())
        .number("too_long_s", report.tooLong_s())
        .number("fit_length_s", report.summary.fitLength_s);
    if (!report.level)
        return object.add("disc_level_db", {}).add("level_runs", {}).add("any_level_fits", {});
    const auto found = report.level->outcome == LevelSearchResult::Outcome::found;
    const auto hopeless = report.level->outcome == LevelSearchResult::Outcome::noLevelHelps;
    return object.number("disc_level_db", found ? report.level->level_db : NAN)
        .count("level_runs", report.level->runs)
        .add("any_level_fits", found      ? juce::var(true)
                               : hopeless ? juce::var(false)
                                          : juce::var());
}

juce::var estimateArray(const CutReport& report) {
    juce::Array<juce::var> forecasts;
    for (const auto& forecast : report.estimates.forecasts())
        if (forecast.seen)
            forecasts.add(
                JsonObject()
                    .number("time_s", forecast.time_s)
                    .number("end_diameter_mm", forecast.estimate.endDiameter_mm)
                    .number("uncertainty_mm", forecast.estimate.endDiameterUncertainty_mm)
                    .number("error_mm", forecast.estimate.endDiameter_mm - report.summary.endDiameter_mm)
                    .truth("length_known", forecast.estimate.lengthKnown));
    return forecasts;
}

juce::var passageObject(const cut::Passage& passage) {
    const auto& row = flagRow(passage.flag);
    const auto& worst = passage.worst;
    return JsonObject()
        .text("flag", cut::name(passage.flag))
        .number("start_s", passage.start_s)
        .number("end_s", passage.end_s)
        .text("figure", row.figure)
        .number("worst", worst.valid ? worst.value : NAN)
        .text("unit", row.unit)
        .number("worst_s", worst.valid ? worst.time_s : NAN)
        .number("radius_mm", worst.valid ? worst.radius_mm : NAN);
}

juce::var passageArray(const cut::CutSummary& summary) {
    juce::Array<juce::var> passages;
    for (const auto& passage : summary.passages)
        passages.add(passageObject(passage));
    return passages;
}

juce::var badSampleObject(const CutOutcome& outcome) {
    return JsonObject()
        .count("count", outcome.badSamples)
        .number("first_s", outcome.badSamples > 0 ? outcome.firstBadSample_s : NAN);
}

} // namespace

std::string jsonText(const CutReport& report) {
    const juce::var root = JsonObject()
                               .count("headland_cut", jsonVersion)
                               .text("headland_version", HEADLAND_VERSION)
                               .add("program", programObject(report.program))
                               .add("settings", settingsObject(report.settings))
                               .add("summary", summaryObject(report))
                               .add("fit", fitObject(report))
                               .add("estimate_check", estimateArray(report))
                               .add("passages", passageArray(report.summary))
                               .count("passages_left_out", report.summary.passagesLeftOut)
                               .add("bad_samples", badSampleObject(report.outcome));
    return juce::JSON::toString(root).toStdString() + "\n";
}

} // namespace headland::console
