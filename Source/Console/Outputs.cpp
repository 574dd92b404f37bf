// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/Outputs.h"

#include "Files/Errors.h"
#include "Log/BookReader.h"
#include "Text/Safe.h"

#include <juce_core/juce_core.h>

#include <algorithm>
#include <filesystem>
#include <utility>

namespace headland::console {

using text::printable;

namespace fs = std::filesystem;

std::vector<NamedPath> namedPaths(const OutputPaths& outputs) {
    std::vector<NamedPath> named;
    for (const auto& [path, option] :
         {std::pair{&outputs.csv, "--csv"}, std::pair{&outputs.json, "--json"},
          std::pair{&outputs.picture, "--picture"}, std::pair{&outputs.profile, "--profile"}})
        if (*path)
            named.push_back({**path, option});
    return named;
}

std::vector<std::string> clashes(const files::KeptFiles& kept, const std::vector<NamedPath>& outputs) {
    std::vector<std::string> problems;
    files::KeptFiles others;
    const auto compare = [&](const NamedPath& output, const std::string& role, const std::string& instead) {
        if (!role.empty())
            problems.push_back(output.role + " \"" + printable(output.path) + "\" is the same file as " + role
                               + "; " + instead);
    };
    for (const auto& output : outputs) {
        compare(output, kept.roleAt(output.path), "it would be overwritten: name another output.");
        compare(output, others.roleAt(output.path), "give each its own name.");
        others.add(output.path, output.role);
    }
    return problems;
}

std::vector<std::string> keepProgramsOf(const std::string& book, files::KeptFiles& kept,
                                        const std::vector<NamedPath>& outputs) {
    std::error_code error;
    if (!fs::exists(book, error) || fs::is_empty(book, error))
        return {};
    try {
        for (const auto& program : log::BookReader(book).programs())
            kept.add(program, "a program that the book names");
    } catch (const files::InputError& problem) {
        if (std::any_of(outputs.begin(), outputs.end(),
                        [&](const auto& output) { return fs::exists(output.path, error); }))
            return {problem.what()};
    }
    return {};
}

PictureFormat pictureFormat(const std::string& path) {
    const auto extension = juce::String(fs::path(path).extension().c_str()).toLowerCase();
    return extension == ".svg"   ? PictureFormat::svg
           : extension == ".png" ? PictureFormat::png
                                 : PictureFormat::unknown;
}

std::vector<std::string> pictureProblems(const std::vector<NamedPath>& outputs) {
    std::vector<std::string> problems;
    for (const auto& [path, option] : outputs)
        if ((option == "--picture" || option == "--groove") && pictureFormat(path) == PictureFormat::unknown)
            problems.push_back(option + " \"" + printable(path)
                               + "\": a picture is written as SVG or PNG; end the name in .svg or .png.");
    return problems;
}

} // namespace headland::console
