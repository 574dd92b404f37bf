// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/CutCommand.h"

#include "Console/BookOutput.h"
#include "Console/CheckedInput.h"
#include "Console/CutReport.h"
#include "Console/FrameFanOut.h"
#include "Console/JsonReport.h"
#include "Console/OpenOutputs.h"
#include "Console/Picture.h"
#include "Console/Progress.h"
#include "Console/StopSignal.h"
#include "Console/SummaryText.h"
#include "Console/Trials.h"
#include "Files/Errors.h"
#include "Files/ProfileFile.h"
#include "Files/RehearseProgram.h"
#include "Log/CsvWriter.h"

#include <optional>
#include <ostream>

namespace headland::console {

namespace {

/// Everything that listens to the frames of the cut.
struct Listeners {
    Listeners(const CheckedInput& input, OpenOutputs& outputs)
        : summary(input.settings), estimates(input.program.length_s()) {
        fanOut.add(summary);
        fanOut.add(estimates);
        if (outputs.picture)
            fanOut.add(series.emplace(input.settings));
        if (outputs.csv)
            fanOut.add(csv.emplace([&file = *outputs.csv](std::string_view bytes) { file.write(bytes); }));
    }

    void addBook(const ProgramRequest& request, const CheckedInput& input, const StopSignal& stop) {
        if (request.book)
            book.emplace(*request.book, headOf(request, input, "cut"), stop);
    }
    /// The cut begins.
    void begin(const std::shared_ptr<const plan::Profile>& profile) {
        if (book)
            fanOut.add(book->begin(profile));
    }

    FrameFanOut fanOut;
    cut::SummaryBuilder summary;
    cut::EstimateCheck estimates;
    std::optional<PictureSeries> series;
    std::optional<log::CsvWriter> csv;
    std::optional<BookOutput> book;
};

/// Looks for the level at which the program fits, cutting the file again.
LevelSearchResult findLevel(const ProgramRequest& request, const CutReport& report,
                            const std::shared_ptr<const plan::Profile>& profile, Progress& progress,
                            const StopSignal& stop) {
    auto run = 0;
    return searchLevel(report.settings, report.summary, [&](const cut::CutSettings& settings) {
        progress.begin("Level that fits, try " + std::to_string(++run));
        return cutTrials(request.program, {settings}, progress, stop, profile).front();
    });
}

/// Whatever ends the cut early, the book says so.
files::CutOutcome cutToTheEnd(CheckedInput& input, const std::shared_ptr<const plan::Profile>& profile,
                              Listeners& listeners, Progress& progress, const StopSignal& stop) {
    try {
        const auto outcome = files::cutProgram(
            input.program, input.settings, listeners.fanOut,
            [&](double fraction) {
                stop.check();
                if (listeners.csv)
                    listeners.csv->check();
                progress.show(fraction);
            },
            profile);
        if (listeners.book)
            listeners.book->finish(outcome, listeners.summary.summary().discEnd.valid
                                                ? handoff::CutEnd::discEnded
                                                : handoff::CutEnd::finished);
        return outcome;
    } catch (const Stopped&) {
        if (!listeners.book)
            throw;
        listeners.book->breakOff("stopped by the user", false);
        throw Stopped{"Stopped; the book holds what was cut until then, and nothing else has been written."};
    } catch (const std::exception& failure) {
        if (listeners.book)
            listeners.book->breakOff(std::string("ended as a fault: ") + failure.what(), true);
        throw;
    }
}

/// What a rehearsal has heard: an earlier one, or one now, if that is asked for.
std::shared_ptr<const plan::Profile> rehearsal(const ProgramRequest& request, const CheckedInput& input,
                                               Progress& progress, const StopSignal& stop) {
    if (request.rehearsed)
        return std::make_shared<const plan::Profile>(files::readProfile(*request.rehearsed));
    if (!request.rehearse && !request.profile)
        return nullptr;
    progress.begin("Rehearsing");
    return files::rehearseProgram(request.program, input.settings, [&](double fraction) {
        stop.check();
        progress.show(fraction);
    });
}

CutReport cutAndReport(const ProgramRequest& request, CheckedInput& input,
                       const std::shared_ptr<const plan::Profile>& profile, Listeners& listeners,
                       Progress& progress, const StopSignal& stop) {
    progress.begin("Cutting");
    const auto outcome = cutToTheEnd(input, profile, listeners, progress, stop);
    CutReport report{files::factsOf(input.program, request.program),
                     input.settings,
                     listeners.summary.summary(),
                     outcome,
                     listeners.estimates,
                     std::nullopt};
    if (!report.summary.fits && !request.quiet)
        report.level = findLevel(request, report, profile, progress, stop);
    return report;
}

void writeOutputs(OpenOutputs& outputs, Listeners& listeners, const CutReport& report) {
    if (outputs.csv)
        listeners.csv->flush();
    if (outputs.json)
        outputs.json->write(jsonText(report));
    if (outputs.picture)
        writeDrawing(*outputs.picture, drawPicture({report.program.fileName, report.settings, report.summary,
                                                    listeners.series->bins()}));
}

} // namespace

ExitCode cutCommand(const ProgramRequest& request, std::ostream& out) {
    const StopSignal stop;
    auto input = checkInput(request);
    stop.check();
    OpenOutputs outputs(request, input.kept);
    Listeners listeners(input, outputs);
    listeners.addBook(request, input, stop);
    Progress progress(!request.quiet);
    const auto profile = rehearsal(request, input, progress, stop);
    if (outputs.profile)
        outputs.profile->write(files::profileBytes(*profile));
    const auto given = request.rehearse || request.rehearsed ? profile : nullptr;
    listeners.begin(given);
    const auto report = cutAndReport(request, input, given, listeners, progress, stop);
    writeOutputs(outputs, listeners, report);
    stop.check();
    outputs.commit();
    const auto shortfall = listeners.book ? listeners.book->shortfall(progress, stop) : std::string();
    progress.wipe();
    out << (request.quiet ? report.summary.verdictLine() + "\n" : summaryText(report));
    if (!shortfall.empty())
        throw files::OutputError(shortfall);
    if (listeners.book && !request.quiet)
        out << "\n" << listeners.book->sentence() << "\n";
    return report.exitCode();
}

} // namespace headland::console
