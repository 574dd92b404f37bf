// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/ReviewCommand.h"

#include "Console/CheckedInput.h"
#include "Console/CutReport.h"
#include "Console/GrooveSource.h"
#include "Console/OpenOutputs.h"
#include "Console/Outputs.h"
#include "Console/Picture.h"
#include "Console/Progress.h"
#include "Console/ReviewJson.h"
#include "Console/ReviewText.h"
#include "Console/StopSignal.h"
#include "Console/SummaryText.h"
#include "Files/Errors.h"
#include "Log/BookReader.h"
#include "Log/CsvWriter.h"
#include "Text/Safe.h"
#include "Text/Times.h"

#include <ostream>

namespace headland::console {

namespace {

/// Every file that is to be written, and by which option.
std::vector<NamedPath> outputsOf(const ReviewRequest& request) {
    auto outputs = namedPaths(request);
    for (const auto& groove : request.grooves)
        outputs.push_back({groove.path, "--groove"});
    return outputs;
}

/// What no output may take the place of, before the book is opened.
files::KeptFiles inputsOf(const ReviewRequest& request) {
    files::KeptFiles kept;
    kept.addBook(request.book, "the book");
    if (request.program)
        kept.add(*request.program, "the program");
    return kept;
}

/// Everything that is wrong with what was asked for, before the book is opened.
void checkRequest(const ReviewRequest& request, const files::KeptFiles& kept,
                  const std::vector<NamedPath>& outputs) {
    auto problems = pictureProblems(outputs);
    for (const auto& groove : request.grooves)
        if (!text::timeFromText(groove.time))
            problems.push_back("--groove: '" + text::printable(groove.time)
                               + "' is no time in the program; write minutes and seconds, such as 3:21.5.");
    if (!request.cut && !outputs.empty())
        problems.push_back(outputs.front().role
                           + ": say of which cut; 'headland review' with the book alone lists them.");
    const auto clash = clashes(kept, outputs);
    problems.insert(problems.end(), clash.begin(), clash.end());
    refuse(problems);
}

/// What the tool reports of a cut. The search for a level is not made again.
CutReport reportOf(const log::LoggedCut& logged, log::FrameSums sums) {
    files::ProgramFacts live{"live", "through the processor", logged.head.sampleRate_hz, 2,
                             0,      sums.program_s};
    files::CutOutcome outcome;
    if (logged.tail)
        outcome = {logged.tail->badSamples, logged.tail->badSampleFirst_s};
    return {logged.head.program ? logged.head.program->facts : live,
            logged.head.settings,
            std::move(sums.summary),
            outcome,
            sums.estimates,
            std::nullopt};
}

/// Whether something is made of every frame, beside the sums.
bool needsFrames(const ReviewRequest& request) {
    return request.csv || request.picture || !request.grooves.empty();
}

log::SummedCut read(const ReviewRequest& request, log::BookReader& book) {
    if (!needsFrames(request))
        return book.summedCut(*request.cut);
    auto logged = book.cut(*request.cut);
    auto sums = log::sumsOf(logged);
    return {std::move(logged), std::move(sums)};
}

void writeCsv(files::OutputFile& file, const log::FrameList& frames) {
    log::CsvWriter csv([&file](std::string_view bytes) { file.write(bytes); });
    for (const auto& frame : frames)
        csv.frame(frame);
    csv.flush();
}

SvgDrawing pictureOf(const log::LoggedCut& logged, const CutReport& report) {
    PictureSeries series(report.settings);
    for (const auto& frame : logged.frames)
        series.frame(frame);
    return drawPicture({report.program.fileName, report.settings, report.summary, series.bins()});
}

ExitCode reviewBook(const ReviewRequest& request, log::BookReader& book, std::ostream& out) {
    out << bookText(request.book, book.cuts(), book.rehearsals());
    if (request.check)
        out << "\nEvery page of the book is whole.\n";
    return ExitCode::done;
}

/// Draws the grooves that were asked for, each into its file.
void drawGrooves(const ReviewRequest& request, log::BookReader& book, const log::LoggedCut& logged,
                 std::vector<files::OutputFile>& files, Progress& progress, const StopSignal& stop) {
    for (std::size_t i = 0; i < request.grooves.size(); ++i) {
        const auto time_s = *text::timeFromText(request.grooves[i].time);
        progress.begin("Groove at " + text::minutesTenths(time_s));
        writeDrawing(files[i],
                     drawGroove(book, *request.cut, logged, request.program, time_s, [&](double fraction) {
                         stop.check();
                         progress.show(fraction);
                     }));
    }
}

/// The bytes of a profile file. Throws InputError when the cut has none.
std::string profileOf(const ReviewRequest& request, log::BookReader& book) {
    auto bytes = book.profile(*request.cut);
    if (bytes.empty())
        throw files::InputError("--profile: cut " + std::to_string(*request.cut)
                                + " was given nothing of a rehearsal; cut the side with --rehearse.");
    return bytes;
}

ExitCode reviewCut(const ReviewRequest& request, log::BookReader& book, const files::KeptFiles& kept,
                   std::ostream& out) {
    const StopSignal stop;
    Progress progress(!request.quiet);
    const auto [logged, sums] = read(request, book);
    const auto report = reportOf(logged, sums);
    const auto places = book.places(*request.cut);
    OpenOutputs outputs(request, kept);
    std::vector<files::OutputFile> grooves;
    for (const auto& groove : request.grooves)
        grooves.emplace_back(groove.path, kept);
    if (outputs.csv)
        writeCsv(*outputs.csv, logged.frames);
    if (outputs.json)
        outputs.json->write(reviewJsonText(*request.cut, logged, places, report));
    if (outputs.picture)
        writeDrawing(*outputs.picture, pictureOf(logged, report));
    if (outputs.profile)
        outputs.profile->write(profileOf(request, book));
    drawGrooves(request, book, logged, grooves, progress, stop);
    stop.check();
    outputs.commit();
    for (auto& groove : grooves)
        groove.commit();
    progress.wipe();
    if (request.quiet)
        out << report.summary.verdictLine() << "\n";
    else
        out << cutHeading(*request.cut, logged) << cutDetails(logged, places) << "\n" << summaryText(report);
    return ExitCode::done;
}

} // namespace

ExitCode reviewCommand(const ReviewRequest& request, std::ostream& out) {
    auto kept = inputsOf(request);
    const auto outputs = outputsOf(request);
    checkRequest(request, kept, outputs);
    log::BookReader book(request.book);
    for (const auto& program : book.programs())
        kept.add(program, "a program that the book names");
    refuse(clashes(kept, outputs));
    if (request.check)
        book.check();
    return request.cut ? reviewCut(request, book, kept, out) : reviewBook(request, book, out);
}

} // namespace headland::console
