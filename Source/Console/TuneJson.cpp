// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/TuneJson.h"

#include "Console/TuneText.h"
#include "Cut/TapePath.h"
#include "Log/JsonObject.h"

#include <cmath>

namespace headland::console {

namespace {

using cut::Flag;

std::string_view outcomeName(DelayOutcome outcome) {
    switch (outcome) {
    case DelayOutcome::landKept:
        return "no-shortfall";
    case DelayOutcome::stillShort:
        return "still-short";
    case DelayOutcome::latheLimits:
        return "lathe-limits";
    case DelayOutcome::discLimits:
        return "disc-limits";
    case DelayOutcome::stylusLifts:
        return "stylus-lifts";
    case DelayOutcome::tooDeep:
        return "too-deep";
    }
    return "";
}

files::Json tapeObject(double delay_s) {
    log::JsonObject object;
    for (const auto& speed : cut::tapeSpeeds)
        object.number(speed.name, cut::tapePath_mm(delay_s, speed));
    return object;
}

files::Json trialObject(const TuneReport& report, std::size_t index) {
    const auto& trial = report.trials[index];
    const auto& summary = trial.summary;
    const auto shortIndex = cut::indexOf(Flag::previewShort);
    return log::JsonObject()
        .number("delay_s", trial.delay_s)
        .number("turns", trial.turns)
        .add("tape_path_mm", tapeObject(trial.delay_s))
        .truth("as_set", index == report.asSet)
        .truth("recommended", index == report.choice.best)
        .truth("can_be_cut", trial.canBeCut())
        .text("verdict_line", summary.verdictLine())
        .number("used_mm", summary.used_mm)
        .number("used_cm2", summary.used_cm2)
        .number("end_diameter_mm", summary.endDiameter_mm)
        .truth("fits", summary.fits)
        .number("pitch_mean_um", summary.pitchMean_um)
        .number("pitch_travel_um_per_turn", summary.pitchTravel_um)
        .add("land_least", log::extremeObject(summary.landLeast, "land_um"))
        .count("short_sectors", summary.flaggedSectors[shortIndex])
        .count("short_passages", summary.flaggedPassages[shortIndex])
        .add("shortfall_greatest",
             trial.isShort() ? log::extremeObject(summary.shortfallGreatest, "shortfall_um") : files::Json());
}

files::Json trialArray(const TuneReport& report) {
    auto trials = files::Json::array();
    for (std::size_t i = 0; i < report.trials.size(); ++i)
        trials.push_back(trialObject(report, i));
    return trials;
}

files::Json leftOutArray(const TuneReport& report) {
    auto delays = files::Json::array();
    for (const auto& delay : report.leftOut)
        delays.push_back(log::JsonObject().number("delay_s", delay.delay_s).text("reason", delay.reason));
    return delays;
}

files::Json steadinessArray(const TuneReport& report) {
    auto trials = files::Json::array();
    for (std::size_t i = 0; i < report.steadiness.size(); ++i) {
        const auto& [percent, summary] = report.steadiness[i];
        trials.push_back(log::JsonObject()
                             .number("steady_pitch_percent", percent)
                             .truth("as_set", i == report.steadinessAsSet)
                             .truth("recommended", i == report.steadinessBest)
                             .truth("can_be_cut", canBeCut(summary))
                             .text("verdict_line", summary.verdictLine())
                             .number("used_mm", summary.used_mm)
                             .number("pitch_travel_um_per_turn", summary.pitchTravel_um));
    }
    return trials;
}

files::Json betterKnownArray(const TuneReport& report) {
    auto trials = files::Json::array();
    for (const auto& better : report.betterKnown)
        trials.push_back(log::JsonObject()
                             .text("key", better.setting->key)
                             .number("value", cut::getNumber(better.settings, *better.setting))
                             .number("used_mm", better.summary.used_mm)
                             .number("saves_mm", report.steadiest().summary.used_mm - better.summary.used_mm)
                             .number("pitch_travel_um_per_turn", better.summary.pitchTravel_um));
    return trials;
}

files::Json recommendationObject(const TuneReport& report) {
    const auto& best = report.best();
    const auto next = report.choice.nextLonger;
    const auto saved_mm = next ? best.summary.used_mm - report.trials[*next].summary.used_mm : NAN;
    return log::JsonObject()
        .number("delay_s", best.delay_s)
        .number("turns", best.turns)
        .text("outcome", outcomeName(report.choice.outcome))
        .text("reason", reasonText(report))
        .number("missing_land_um", best.missingLand_um(report.settings.land_min_um))
        .number("next_longer_s", next ? report.trials[*next].delay_s : NAN)
        .number("next_longer_saves_mm", saved_mm)
        .number("steady_pitch_percent", report.steadiness.empty() ? NAN : report.steadiest().percent);
}

} // namespace

std::string tuneJson(const TuneReport& report) {
    const files::Json root = log::JsonObject()
                                 .count("headland_tune", tuneJsonVersion)
                                 .text("headland_version", HEADLAND_VERSION)
                                 .add("program", log::programObject(report.program))
                                 .add("settings", log::settingsObject(report.settings))
                                 .number("turn_s", report.settings.turn_s())
                                 .add("recommendation", recommendationObject(report))
                                 .add("delays", trialArray(report))
                                 .add("left_out", leftOutArray(report))
                                 .add("steadiness", steadinessArray(report))
                                 .add("better_known", betterKnownArray(report));
    return files::reportText(root);
}

} // namespace headland::console
