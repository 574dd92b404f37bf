// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/Outputs.h"

#include "Files/Text.h"

#include <juce_core/juce_core.h>

#include <filesystem>

namespace headland::console {

using files::printable;

namespace fs = std::filesystem;

bool isSameFile(const std::string& a, const std::string& b) {
    std::error_code error;
    if (fs::equivalent(a, b, error)) // also by way of links
        return true;
    const auto wholeA = fs::weakly_canonical(fs::absolute(a, error), error);
    const auto wholeB = fs::weakly_canonical(fs::absolute(b, error), error);
    return !wholeA.empty() && wholeA == wholeB;
}

std::vector<std::string> clashes(const std::vector<NamedPath>& inputs,
                                 const std::vector<NamedPath>& outputs) {
    std::vector<std::string> problems;
    const auto compare = [&](const NamedPath& output, const NamedPath& other, const std::string& instead) {
        if (isSameFile(output.path, other.path))
            problems.push_back(output.role + " \"" + printable(output.path) + "\" is the same file as "
                               + other.role + "; " + instead);
    };
    for (std::size_t i = 0; i < outputs.size(); ++i) {
        for (const auto& input : inputs)
            compare(outputs[i], input, "it would be overwritten: name another output.");
        for (std::size_t j = 0; j < i; ++j)
            compare(outputs[i], outputs[j], "give each its own name.");
    }
    return problems;
}

PictureFormat pictureFormat(const std::string& path) {
    const auto extension = juce::String(fs::path(path).extension().c_str()).toLowerCase();
    return extension == ".svg"   ? PictureFormat::svg
           : extension == ".png" ? PictureFormat::png
                                 : PictureFormat::unknown;
}

} // namespace headland::console
