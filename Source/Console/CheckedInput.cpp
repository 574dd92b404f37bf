// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/CheckedInput.h"

#include "Console/Outputs.h"
#include "Files/Errors.h"
#include "Log/BookPlace.h"
#include "Log/BookSchema.h"
#include "Log/BookTrouble.h"

#include <optional>

namespace headland::console {

namespace {

void append(std::vector<std::string>& problems, const std::vector<std::string>& more) {
    problems.insert(problems.end(), more.begin(), more.end());
}

/// What is wrong with the book as a place; then it and the programs it names are kept.
std::vector<std::string> bookProblems(const std::string& book, files::KeptFiles& kept,
                                      const std::vector<NamedPath>& outputs) {
    try {
        log::checkBookPlace(book);
    } catch (const log::BookRefused& refusal) {
        return {log::bookPlace(book) + " cannot be written into: " + refusal.what()};
    }
    std::vector<NamedPath> itself{{book, "--book"}};
    for (const auto& beside : files::besideBook(files::wholePlace(book)))
        itself.push_back({beside, "--book, of what belongs to it,"});
    auto problems = clashes(kept, itself);
    kept.addBook(book, "the book");
    if (problems.empty())
        append(problems, keepProgramsOf(book, kept, outputs));
    return problems;
}

/// The names in the book, as the window has them too.
std::vector<std::string> nameProblems(const log::SideName& side) {
    std::vector<std::string> problems;
    if (log::isBlank(side.job))
        problems.emplace_back("--job: the job has no name; write what the record is called.");
    if (!side.side.empty() && log::isBlank(side.side))
        problems.emplace_back("--side: the side has no name; write a letter, or what it is called.");
    return problems;
}

std::vector<std::string> outputProblems(const ProgramRequest& request, files::KeptFiles& kept) {
    const auto outputs = namedPaths(request);
    kept.add(request.program, "the program");
    if (request.rehearsed)
        kept.add(*request.rehearsed, "the profile");
    for (const auto& preset : request.settings.presets)
        kept.add(preset, "the preset");
    auto problems = request.book ? bookProblems(*request.book, kept, outputs) : std::vector<std::string>();
    append(problems, clashes(kept, outputs));
    append(problems, pictureProblems(outputs));
    return problems;
}

} // namespace

void refuse(const std::vector<std::string>& problems) {
    if (!problems.empty())
        throw files::InputError(problems);
}

CheckedInput checkInput(const ProgramRequest& request, const std::vector<std::string>& others) {
    files::KeptFiles kept;
    auto problems = outputProblems(request, kept);
    append(problems, nameProblems(request.side));
    append(problems, others);
    auto merged = mergeSettings(request.settings);
    append(problems, merged.problems);
    std::optional<files::ProgramFile> program;
    try {
        program.emplace(files::ProgramFile::open(request.program));
    } catch (const files::InputError& error) {
        problems.push_back(error.what());
    }
    if (program && !merged.sideLengthGiven)
        merged.settings.side_length_s = program->length_s();
    const auto rate_hz = program ? program->sampleRate_hz() : files::ProgramFile::sampleRateMin_hz;
    append(problems, cut::validate(merged.settings, rate_hz));
    refuse(problems);
    return {std::move(*program), merged.settings, std::move(kept)};
}

} // namespace headland::console
