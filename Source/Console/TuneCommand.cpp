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

#include <ostream>
#include <utility>

namespace headland::console {

namespace {

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

/// Every trial is a rehearsal of the side, in the book if one was named.
void noteTrials(const ProgramRequest& request, const CheckedInput& input, const TuneReport& report) {
    std::vector<cut::CutSettings> settings(report.trials.size(), input.settings);
    std::vector<const cut::CutSummary*> summaries;
    for (std::size_t i = 0; i < settings.size(); ++i) {
        settings[i].preview_s = report.trials[i].delay_s;
        summaries.push_back(&report.trials[i].summary);
    }
    writeRehearsals(request, input, "tune", "preview_s", settings, summaries);
}

} // namespace

ExitCode tuneCommand(const ProgramRequest& request, std::ostream& out) {
    const StopSignal stop;
    const auto input = checkInput(request);
    stop.check();
    OpenOutputs outputs(request, input.kept);
    Progress progress(!request.quiet);
    const auto report = tryDelays(request, input, progress, stop);
    noteTrials(request, input, report);
    if (outputs.json)
        outputs.json->write(tuneJson(report));
    if (outputs.picture)
        writeDrawing(*outputs.picture, drawTrialChart(tuneChart(report)));
    stop.check();
    outputs.commit();
    progress.wipe();
    out << (request.quiet ? headline(report) + ": " + recommendation(report) + " " + longerOnes(report) + "\n"
                          : tuneText(report));
    return ExitCode::done;
}

} // namespace headland::console
