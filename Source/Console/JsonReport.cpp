// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/JsonReport.h"

#include "Log/CutJson.h"
#include "Log/JsonObject.h"

#include <cmath>

namespace headland::console {

namespace {

files::Json summaryObject(const CutReport& report) {
    const auto& last = report.estimates.last();
    log::JsonObject object;
    log::addVerdict(object, report.summary);
    object.count("exit_code", static_cast<int>(report.exitCode()))
        .text("exit_meaning", meaningOf(report.exitCode()));
    log::addFigures(object, report.summary, last.seen ? last.estimate.left_min : NAN);
    return object;
}

files::Json fitObject(const CutReport& report) {
    log::JsonObject object;
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
        .add("any_level_fits", found || hopeless ? files::Json(found) : files::Json());
}

files::Json estimateArray(const CutReport& report) {
    auto forecasts = files::Json::array();
    for (const auto& forecast : report.estimates.forecasts())
        if (forecast.seen)
            forecasts.push_back(log::JsonObject()
                                    .number("time_s", forecast.time_s)
                                    .number("end_diameter_mm", forecast.estimate.endDiameter_mm)
                                    .number("uncertainty_mm", forecast.estimate.endDiameterUncertainty_mm)
                                    .number("error_mm", report.summary.discEnd.valid
                                                            ? NAN
                                                            : forecast.estimate.endDiameter_mm
                                                                  - report.summary.endDiameter_mm)
                                    .truth("length_known", forecast.estimate.isLengthKnown())
                                    .text("grade", disc::nameOf(forecast.estimate.grade)));
    return forecasts;
}

files::Json badSampleObject(const files::CutOutcome& outcome) {
    return log::JsonObject()
        .count("count", outcome.badSamples)
        .number("first_s", outcome.badSamples > 0 ? outcome.firstBadSample_s : NAN);
}

files::Json rehearsalObject(const cut::ProfileUse& use) {
    return log::JsonObject()
        .truth("used", use.wasUsed)
        .truth("dropped", use.isDropped)
        .number("dropped_s", use.isDropped ? use.dropped_s : NAN);
}

} // namespace

log::JsonObject reportObject(const CutReport& report) {
    return log::JsonObject()
        .count("headland_cut", jsonVersion)
        .text("headland_version", HEADLAND_VERSION)
        .add("program", log::programObject(report.program))
        .add("settings", log::settingsObject(report.settings))
        .add("summary", summaryObject(report))
        .add("rehearsal", rehearsalObject(report.outcome.profile))
        .add("fit", fitObject(report))
        .add("estimate_check", estimateArray(report))
        .add("passages", log::passageArray(report.summary))
        .count("passages_left_out", report.summary.passagesLeftOut)
        .add("bad_samples", badSampleObject(report.outcome));
}

std::string jsonText(const CutReport& report) {
    return files::reportText(reportObject(report));
}

} // namespace headland::console
