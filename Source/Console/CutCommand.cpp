// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/CutCommand.h"

#include "Console/CsvWriter.h"
#include "Console/CutReport.h"
#include "Console/Errors.h"
#include "Console/FrameFanOut.h"
#include "Console/JsonReport.h"
#include "Console/OutputFile.h"
#include "Console/Outputs.h"
#include "Console/Picture.h"
#include "Console/PngPicture.h"
#include "Console/Progress.h"
#include "Console/StopSignal.h"
#include "Console/SummaryText.h"
#include "Console/Text.h"

#include <filesystem>
#include <ostream>

namespace headland::console {

namespace {

/// Throws one InputError with all problems, a line each, if there are any.
void refuse(const std::vector<std::string>& problems) {
    std::string text;
    for (const auto& problem : problems)
        text += (text.empty() ? "" : "\n") + problem;
    if (!text.empty())
        throw InputError(text);
}

std::vector<std::string> outputProblems(const CutRequest& request) {
    std::vector<NamedPath> inputs{{request.program, "the program"}}, outputs;
    for (const auto& preset : request.settings.presets)
        inputs.push_back({preset, "the preset"});
    if (request.csv)
        outputs.push_back({*request.csv, "--csv"});
    if (request.json)
        outputs.push_back({*request.json, "--json"});
    if (request.picture)
        outputs.push_back({*request.picture, "--picture"});
    auto problems = clashes(inputs, outputs);
    if (request.picture && pictureFormat(*request.picture) == PictureFormat::unknown)
        problems.push_back("--picture \"" + printable(*request.picture)
                           + "\": a picture is written as SVG or PNG; end the name in .svg or .png.");
    return problems;
}

/// The program and the settings to cut it with, or all that is wrong with either, at once.
struct CheckedInput {
    ProgramFile program;
    cut::CutSettings settings;
};

CheckedInput checkInput(const CutRequest& request) {
    auto problems = outputProblems(request);
    auto merged = mergeSettings(request.settings);
    problems.insert(problems.end(), merged.problems.begin(), merged.problems.end());
    std::optional<ProgramFile> program;
    try {
        program.emplace(ProgramFile::open(request.program));
    } catch (const InputError& error) {
        problems.push_back(error.what());
    }
    if (program && !merged.sideLengthGiven)
        merged.settings.side_length_s = program->length_s();
    const auto rate_hz = program ? program->sampleRate_hz() : ProgramFile::sampleRateMin_hz;
    const auto invalid = cut::validate(merged.settings, rate_hz);
    problems.insert(problems.end(), invalid.begin(), invalid.end());
    refuse(problems);
    return {std::move(*program), merged.settings};
}

ProgramFacts factsOf(const ProgramFile& program, const std::string& path) {
    return {printable(std::filesystem::path(path).filename().string()),
            program.format(),
            program.sampleRate_hz(),
            program.channels(),
            program.length_frames(),
            program.length_s()};
}

/// The output files, made before the work starts; those never committed leave no trace.
struct OpenOutputs {
    explicit OpenOutputs(const CutRequest& request) {
        if (request.csv)
            csv.emplace(*request.csv);
        if (request.json)
            json.emplace(*request.json);
        if (request.picture)
            picture.emplace(*request.picture);
    }
    void commit() {
        for (auto* file : {&csv, &json, &picture})
            if (file->has_value())
                (*file)->commit();
    }
    std::optional<OutputFile> csv, json, picture;
};

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
    FrameFanOut fanOut;
    cut::SummaryBuilder summary;
    EstimateCheck estimates;
    std::optional<PictureSeries> series;
    std::optional<CsvWriter> csv;
};

/// Looks for the level at which the program fits, cutting the file again.
LevelSearchResult findLevel(const CutRequest& request, const CutReport& report, Progress& progress,
                            const StopSignal& stop) {
    auto run = 0;
    return searchLevel(report.settings, report.summary, [&](const cut::CutSettings& settings) {
        progress.begin("Level that fits, try " + std::to_string(++run));
        auto program = ProgramFile::open(request.program);
        cut::SummaryBuilder summary(settings);
        cutProgram(program, settings, summary, [&](double fraction) {
            stop.check();
            progress.show(fraction);
        });
        return summary.summary();
    });
}

CutReport cutAndReport(const CutRequest& request, CheckedInput& input, Listeners& listeners,
                       Progress& progress, const StopSignal& stop) {
    progress.begin("Cutting");
    const auto outcome = cutProgram(input.program, input.settings, listeners.fanOut, [&](double fraction) {
        stop.check();
        if (listeners.csv)
            listeners.csv->check();
        progress.show(fraction);
    });
    CutReport report{factsOf(input.program, request.program),
                     input.settings,
                     listeners.summary.summary(),
                     outcome,
                     listeners.estimates,
                     std::nullopt};
    if (!report.summary.fits && !request.quiet)
        report.level = findLevel(request, report, progress, stop);
    return report;
}

void writePicture(OutputFile& file, const CutReport& report, const PictureSeries& series) {
    const auto drawing =
        drawPicture({report.program.fileName, report.settings, report.summary, series.bins()});
    file.write(pictureFormat(file.path()) == PictureFormat::svg ? drawing.toText() : pngBytes(drawing));
}

void writeOutputs(OpenOutputs& outputs, Listeners& listeners, const CutReport& report) {
    if (outputs.csv)
        listeners.csv->flush();
    if (outputs.json)
        outputs.json->write(jsonText(report));
    if (outputs.picture)
        writePicture(*outputs.picture, report, *listeners.series);
}

} // namespace

ExitCode cutCommand(const CutRequest& request, std::ostream& out) {
    const StopSignal stop;
    auto input = checkInput(request);
    stop.check();
    OpenOutputs outputs(request);
    Listeners listeners(input, outputs);
    Progress progress(!request.quiet);
    const auto report = cutAndReport(request, input, listeners, progress, stop);
    writeOutputs(outputs, listeners, report);
    stop.check();
    outputs.commit();
    progress.wipe();
    out << (request.quiet ? report.summary.verdictLine() + "\n" : summaryText(report));
    return report.exitCode();
}

} // namespace headland::console
