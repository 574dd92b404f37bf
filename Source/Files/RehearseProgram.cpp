// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/RehearseProgram.h"

#include "Cut/ProgramRehearsal.h"
#include "Files/ProgramFile.h"
#include "Text/Figures.h"

#include <array>
#include <stdexcept>

namespace headland::files {

std::shared_ptr<const plan::Profile> rehearseProgram(const std::string& path,
                                                     const cut::CutSettings& settings,
                                                     const std::function<bool(double)>& goOn) {
    constexpr int block_frames = 4096;
    auto program = ProgramFile::open(path);
    if (const auto problems = cut::validate(settings, program.sampleRate_hz()); !problems.empty())
        throw std::invalid_argument(text::joined(problems));
    cut::ProgramRehearsal rehearsal(settings, program.sampleRate_hz());
    std::array<float, block_frames> left{}, right{};
    if (!goOn(0))
        return nullptr;
    while (const auto frames = program.read(left.data(), right.data(), block_frames)) {
        rehearsal.process(left.data(), right.data(), frames);
        if (!goOn(static_cast<double>(program.position_frames())
                  / static_cast<double>(program.length_frames())))
            return nullptr;
    }
    return std::make_shared<const plan::Profile>(rehearsal.profile());
}

} // namespace headland::files
