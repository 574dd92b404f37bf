// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/FitJson.h"

#include "Console/FitText.h"
#include "Log/JsonObject.h"

namespace headland::console {

namespace {

files::Json faultArray(const std::vector<Fault>& faults) {
    auto array = files::Json::array();
    for (const auto& fault : faults)
        array.push_back(log::JsonObject()
                            .text("limit", name(fault.limit))
                            .number("figure", fault.value)
                            .number("allowed", fault.allowed)
                            .text("unit", unitOf(fault.limit))
                            .number("time_s", fault.time_s)
                            .number("diameter_mm", fault.diameter_mm));
    return array;
}

files::Json varyObject(const FitResult& result) {
    return log::JsonObject()
        .text("name", result.quantity->name)
        .text("key", result.quantity->key)
        .text("unit", result.quantity->unit)
        .number("least", result.range.least / perTenth)
        .number("greatest", result.range.greatest / perTenth)
        .number("step", 1 / perTenth);
}

files::Json trialObject(const FitTrial& trial) {
    const auto& summary = trial.summary;
    return log::JsonObject()
        .number("value", trial.tenths / perTenth)
        .truth("clean", trial.isClean())
        .number("end_diameter_mm", summary.endDiameter_mm)
        .number("used_mm", summary.used_mm)
        .number("left_mm", summary.left_mm)
        .number("pitch_mean_um", summary.pitchMean_um)
        .number("lines_per_inch", 25400 / summary.pitchMean_um)
        .add("land_least", log::extremeObject(summary.landLeast, "land_um"))
        .add("width_least", log::extremeObject(summary.widthLeast, "width_um"))
        .add("slope_greatest", log::extremeObject(summary.slopeGreatest, "slope"))
        .add("curvature_least", log::extremeObject(summary.curvatureLeast, "radius_um"))
        .add("faults", faultArray(trial.faults));
}

files::Json trialArray(const FitResult& result) {
    auto array = files::Json::array();
    for (const auto& trial : result.trials)
        array.push_back(trialObject(trial));
    return array;
}

} // namespace

std::string fitJsonText(const FitReport& report) {
    const auto& result = report.result;
    const auto *best = result.best(), *above = result.above();
    const files::Json root =
        log::JsonObject()
            .count("headland_fit", fitJsonVersion)
            .text("headland_version", HEADLAND_VERSION)
            .add("program", log::programObject(report.program))
            .add("settings", log::settingsObject(report.settings))
            .add("vary", varyObject(result))
            .add("answer", best == nullptr ? files::Json() : files::Json(best->tenths / perTenth))
            .text("answer_sentence", answerSentence(report))
            .text("limit_sentence", limitSentence(report))
            .text("caution", cautionSentences(report))
            .count("exit_code", static_cast<int>(report.exitCode()))
            .add("gives_way",
                 best == nullptr || above == nullptr ? faultArray({}) : faultArray(above->faults))
            .add("trials", trialArray(result));
    return files::reportText(root);
}

} // namespace headland::console
