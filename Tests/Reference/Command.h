// SPDX-License-Identifier: GPL-3.0-or-later
// Other programs as a measure: runs them by command and exchanges sound with them as raw samples, which need no parser.
#pragma once

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <sys/wait.h>
#include <vector>

namespace headland::test {

/// One argument as the shell takes it literally.
inline std::string quoted(const std::string& argument) {
    std::string result = "'";
    for (const auto c : argument)
        result += c == '\'' ? std::string("'\\''") : std::string(1, c);
    return result + "'";
}

/// Runs a shell command and returns what it wrote on standard output; throws when it fails.
inline std::string runCommand(const std::string& command) {
    auto* pipe = ::popen(command.c_str(), "r");
    if (pipe == nullptr)
        throw std::runtime_error("cannot run: " + command);
    std::string output;
    char bytes[4096];
    while (const auto count = std::fread(bytes, 1, sizeof bytes, pipe))
        output.append(bytes, count);
    const auto status = ::pclose(pipe);
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
        throw std::runtime_error("failed: " + command);
    return output;
}

/// The recordings in Debian packages, in the order of their names.
inline std::vector<std::string> recordingsOf(const std::string& packages) {
    std::vector<std::string> files;
    std::istringstream list(runCommand("dpkg -L " + packages));
    for (std::string file; std::getline(list, file);)
        if (file.ends_with(".ogg") || file.ends_with(".mp3"))
            files.push_back(file);
    std::sort(files.begin(), files.end());
    return files;
}

/// Writes numbers as raw samples of this machine's byte order.
template <typename Sample>
void writeRaw(const std::string& path, const std::vector<Sample>& samples) {
    std::ofstream file(path, std::ios::binary);
    file.write(reinterpret_cast<const char*>(samples.data()),
               static_cast<std::streamsize>(samples.size() * sizeof(Sample)));
    if (!file.flush())
        throw std::runtime_error("cannot write " + path);
}

template <typename Sample>
std::vector<Sample> readRaw(const std::string& path) {
    std::ifstream file(path, std::ios::binary | std::ios::ate);
    std::vector<Sample> samples(static_cast<std::size_t>(file.tellg()) / sizeof(Sample));
    file.seekg(0);
    file.read(reinterpret_cast<char*>(samples.data()),
              static_cast<std::streamsize>(samples.size() * sizeof(Sample)));
    if (!file)
        throw std::runtime_error("cannot read " + path);
    return samples;
}

} // namespace headland::test
