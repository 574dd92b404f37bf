// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/ProgramFacts.h"

#include "Text/Figures.h"
#include "Text/Safe.h"

#include <filesystem>

namespace headland::files {

ProgramFacts factsOf(const ProgramFile& program, const std::string& path) {
    return {text::printable(std::filesystem::path(path).filename().string()),
            program.format(),
            program.sampleRate_hz(),
            program.channels(),
            program.length_frames(),
            program.length_s()};
}

std::string describe(const ProgramFacts& program) {
    return text::printable(program.fileName + ": " + program.format) + ", "
           + text::plain(program.sampleRate_hz / 1000) + " kHz, "
           + (program.channels == 1 ? "mono (cut on both walls)" : "stereo");
}

} // namespace headland::files
