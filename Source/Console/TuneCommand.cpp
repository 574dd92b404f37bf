// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/TuneCommand.h"

#include "Console/BookOutput.h"
#include "Console/CheckedInput.h"
#include "Console/OpenOutputs.h"
#include "Console/Progress.h"
#include "Console/StopSignal.h"
#include "Console/Trials.h"
#include "Console/TuneJson.h"
#include "Console/TunePicture.h"
#include "Console/TuneText.h"
#include "Text/Figures.h"

#include <ostream>
#include <utility>

namespace headland::console {

namespace {

constexpr double platterBetterHeld =
    0.0002; ///< of its speed: what a direct drive with a quartz does, common practice, no source

TuneReport tryDelays(const ProgramRequest& request, const CheckedInput& input, Progress& progress,
                     const StopSignal& stop) {
    auto delays = cut::delaysToTry(input.settings, input.program.sampleRate_hz());
    progress.begin("Cutting at " + std::to_string(delays.trials.size()) + " delays");
    auto summaries = cutTrials(request.program, delays.trials, progress, stop);
    TuneReport report{files::factsOf(input.program, request.program),
                      input.settings,
                      {},
                      delays.asSet,
                      std::move(delays.leftOut),
                      {}};
    for (std::size_t i = 0; i < summaries.size(); ++i) {
        const auto delay_s = delays.trials[i].preview_s;
        report.trials.push_back({delay_s, delay_s / input.settings.turn_s(), std::move(summaries[i])});
    }
    report.choice = chooseDelay(report.trials, input.settings.land_min_um);
    return report;
}

/// How steady the pitch shall be, at the delay that was chosen.
void trySteadiness(TuneReport& report, const ProgramRequest& request, Progress& progress,
                   const StopSignal& stop) {
    auto settings = report.settings;
    settings.preview_s = report.best().delay_s;
    std::vector<cut::CutSettings> trials;
    const auto percents = steadinessToTry(settings);
    const auto isSet = [&](double percent) { return percent == settings.steady_pitch_percent; };
    for (const auto percent : percents)
        if (!isSet(percent)) { // that one has been cut
            trials.push_back(settings);
            trials.back().steady_pitch_percent = percent;
        }
    progress.begin("Cutting with " + std::to_string(trials.size()) + " other values for a steady pitch");
    auto summaries = cutTrials(request.program, trials, progress, stop);
    auto next = summaries.begin();
    for (const auto percent : percents) {
        if (isSet(percent))
            report.steadinessAsSet = report.steadiness.size();
        report.steadiness.push_back({percent, isSet(percent) ? report.best().summary : std::move(*next++)});
    }
    report.steadinessBest = chooseSteadiness(report.steadiness, report.steadinessAsSet, settings.land_min_um);
}

/// What it would buy to know the machine better than the tolerances say.
void tryBetterKnown(TuneReport& report, const ProgramRequest& request, Progress& progress,
                    const StopSignal& stop) {
    auto settings = report.settings;
    settings.preview_s = report.best().delay_s;
    settings.steady_pitch_percent = report.steadiest().percent;
    std::vector<cut::CutSettings> trials;
    const auto add = [&](std::string_view key, double cut::CutSettings::*member, double better) {
        if (settings.*member <= better)
            return;
        trials.push_back(settings);
        trials.back().*member = better;
        report.betterKnown.push_back({trials.back(), cut::findSetting(key), {}});
    };
    add("speed_tolerance", &cut::CutSettings::speed_tolerance, platterBetterHeld);
    add("preview_tolerance_s", &cut::CutSettings::preview_tolerance_s, 0);
    if (trials.empty())
        return;
    progress.begin("Cutting with a machine that is better known");
    auto summaries = cutTrials(request.program, trials, progress, stop);
    for (std::size_t i = 0; i < summaries.size(); ++i)
        report.betterKnown[i].summary = std::move(summaries[i]);
}

/// Every trial is a rehearsal of the side, in the book if one was named.
void noteTrials(const ProgramRequest& request, const CheckedInput& input, const TuneReport& report) {
    std::vector<SearchTrial> trials;
    auto settings = input.settings;
    for (const auto& trial : report.trials) {
        settings.preview_s = trial.delay_s;
        trials.push_back({"preview_s", settings, &trial.summary});
    }
    settings.preview_s = report.best().delay_s;
    for (const auto& trial : report.steadiness) {
        settings.steady_pitch_percent = trial.percent;
        trials.push_back({"steady_pitch_percent", settings, &trial.summary});
    }
    for (const auto& trial : report.betterKnown)
        trials.push_back({std::string(trial.setting->key), trial.settings, &trial.summary});
    writeRehearsals(request, input, "tune", trials);
}

} // namespace

ExitCode tuneCommand(const ProgramRequest& request, std::ostream& out) {
    const StopSignal stop;
    const auto input = checkInput(request);
    stop.check();
    OpenOutputs outputs(request, input.kept);
    Progress progress(!request.quiet);
    auto report = tryDelays(request, input, progress, stop);
    if (report.best().canBeCut()) {
        trySteadiness(report, request, progress, stop);
        tryBetterKnown(report, request, progress, stop);
    }
    noteTrials(request, input, report);
    if (outputs.json)
        outputs.json->write(tuneJson(report));
    if (outputs.picture)
        writeDrawing(*outputs.picture, drawTrialChart(tuneChart(report)));
    stop.check();
    outputs.commit();
    progress.wipe();
    out << (request.quiet ? headline(report) + ": "
                                + text::joined({recommendation(report), longerOnes(report),
                                                steadinessText(report), betterKnownText(report)})
                                + "\n"
                          : tuneText(report));
    return ExitCode::done;
}

} // namespace headland::console
