// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/RehearseProgram.h"

#include "Cut/ProgramRehearsal.h"
#include "Files/ProgramFile.h"

#include <array>

namespace headland::files {

std::shared_ptr<const plan::Profile>
rehearseProgram(const std::string& path, const cut::CutSettings& settings, const BetweenBlocks& between) {
    constexpr int block_frames = 4096;
    auto program = ProgramFile::open(path);
    cut::ProgramRehearsal rehearsal(settings, program.sampleRate_hz());
    std::array<float, block_frames> left{}, right{};
    between(0);
    while (const auto frames = program.read(left.data(), right.data(), block_frames)) {
        rehearsal.process(left.data(), right.data(), frames);
        between(static_cast<double>(program.position_frames())
                / static_cast<double>(program.length_frames()));
    }
    return std::make_shared<const plan::Profile>(rehearsal.profile());
}

} // namespace headland::files
