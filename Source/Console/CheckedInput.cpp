// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/CheckedInput.h"

#include "Console/Outputs.h"
#include "Files/Errors.h"
#include "Files/Text.h"

#include <optional>

namespace headland::console {

using files::printable;

namespace {

void append(std::vector<std::string>& problems, const std::vector<std::string>& more) {
    problems.insert(problems.end(), more.begin(), more.end());
}

std::vector<std::string> outputProblems(const ProgramRequest& request) {
    std::vector<NamedPath> inputs{{request.program, "the program"}}, outputs;
    for (const auto& preset : request.settings.presets)
        inputs.push_back({preset, "the preset"});
    if (request.csv)
        outputs.push_back({*request.csv, "--csv"});
    if (request.json)
        outputs.push_back({*request.json, "--json"});
    if (request.picture)
        outputs.push_back({*request.picture, "--picture"});
    if (request.book)
        outputs.push_back({*request.book, "--book"});
    auto problems = clashes(inputs, outputs);
    if (request.picture && pictureFormat(*request.picture) == PictureFormat::unknown)
        problems.push_back("--picture \"" + printable(*request.picture)
                           + "\": a picture is written as SVG or PNG; end the name in .svg or .png.");
    return problems;
}

} // namespace

void refuse(const std::vector<std::string>& problems) {
    std::string text;
    for (const auto& problem : problems)
        text += (text.empty() ? "" : "\n") + problem;
    if (!text.empty())
        throw files::InputError(text);
}

CheckedInput checkInput(const ProgramRequest& request, const std::vector<std::string>& others) {
    auto problems = outputProblems(request);
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
    return {std::move(*program), merged.settings};
}

} // namespace headland::console
