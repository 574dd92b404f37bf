// SPDX-License-Identifier: GPL-3.0-or-later
// The output files of one cut: what was asked for, checked against the inputs and each other before anything is opened.
#pragma once

#include <string>
#include <vector>

namespace headland::console {

/// A file of the user's and what it is to the command, e.g. {"side.csv", "--csv"}.
struct NamedPath {
    std::string path;
    std::string role;
};

/// True if both paths lead to the same file, whether it exists yet or not.
bool isSameFile(const std::string& a, const std::string& b);

/// One sentence for every two outputs that are the same file, and for every output that would overwrite an input.
std::vector<std::string> clashes(const std::vector<NamedPath>& inputs, const std::vector<NamedPath>& outputs);

/// Formats of a picture.
enum class PictureFormat { svg, png, unknown };

/// The format that the path's extension asks for, capital letters or not.
PictureFormat pictureFormat(const std::string& path);

} // namespace headland::console
