// SPDX-License-Identifier: GPL-3.0-or-later
// The output files of one cut: what was asked for, checked against the inputs and each other before anything is opened.
#pragma once

#include "Files/KeptFiles.h"

#include <optional>
#include <string>
#include <vector>

namespace headland::console {

/// What a command writes besides its text: paths as they were given.
struct OutputPaths {
    std::optional<std::string> csv;     ///< of the cut log
    std::optional<std::string> json;    ///< of the report
    std::optional<std::string> picture; ///< ending in .svg or .png
    std::optional<std::string> profile; ///< of the rehearsed program
};

/// A file of the user's and what it is to the command, e.g. {"side.csv", "--csv"}.
struct NamedPath {
    std::string path;
    std::string role;
};

/// Those that were given, each with its option.
std::vector<NamedPath> namedPaths(const OutputPaths& outputs);

/// One sentence for every two outputs that are the same file, and for every output that would take the place of what is kept.
std::vector<std::string> clashes(const files::KeptFiles& kept, const std::vector<NamedPath>& outputs);

/// Keeps the programs that a book names, if it is there. Where it cannot be read, so that nobody knows them: a sentence, but
/// only if one of the outputs is there already, as nothing else can be lost.
std::vector<std::string> keepProgramsOf(const std::string& book, files::KeptFiles& kept,
                                        const std::vector<NamedPath>& outputs);

/// Formats of a picture.
enum class PictureFormat { svg, png, unknown };

/// The format that the path's extension asks for, capital letters or not.
PictureFormat pictureFormat(const std::string& path);

/// A sentence for every one of the outputs of --picture and --groove whose name asks for no format.
std::vector<std::string> pictureProblems(const std::vector<NamedPath>& outputs);

} // namespace headland::console
