// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/RehearseProgram.h"

#include "Cut/ProgramRehearsal.h"

#include <vector>

namespace headland::console {

std::shared_ptr<const plan::Profile>
rehearseProgram(const std::string& path, const cut::CutSettings& settings, const BetweenBlocks& between) {
    constexpr int blockSize_frames = 4096;
    auto program = files::ProgramFile::open(path);
    cut::ProgramRehearsal rehearsal(settings, program.sampleRate_hz());
    std::vector<float> left(blockSize_frames), right(blockSize_frames);
    std::int64_t done_frames = 0;
    between(0);
    while (const auto frames = program.read(left.data(), right.data(), blockSize_frames)) {
        rehearsal.process(left.data(), right.data(), frames);
        done_frames += frames;
        between(static_cast<double>(done_frames) / static_cast<double>(program.length_frames()));
    }
    return std::make_shared<const plan::Profile>(rehearsal.profile());
}

} // namespace headland::console
