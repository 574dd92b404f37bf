// SPDX-License-Identifier: GPL-3.0-or-later
#include "Files/CutRun.h"

#include "Cut/CutEngine.h"

#include <array>

namespace headland::files {

namespace {

constexpr int blockSize_frames = 4096;

} // namespace

CutOutcome cutProgram(ProgramFile& program, const cut::CutSettings& settings, cut::FrameSink& sink,
                      const BetweenBlocks& between, std::shared_ptr<const plan::Profile> profile) {
    cut::CutEngine engine;
    engine.prepare(settings, program.sampleRate_hz(), {}, std::move(profile));
    engine.rehearsed();
    const auto whole_frames = static_cast<double>(program.length_frames() + engine.previewSamples());
    std::array<float, blockSize_frames> left{}, right{};
    std::int64_t done_frames = 0;
    const auto pass = [&](int frames) {
        done_frames += frames;
        between(static_cast<double>(done_frames) / whole_frames);
    };
    between(0);
    while (const auto frames = program.read(left.data(), right.data(), blockSize_frames)) {
        engine.process(left.data(), right.data(), frames, sink);
        pass(frames);
    }
    while (!engine.finishSome(blockSize_frames, sink))
        pass(blockSize_frames);
    between(1);
    return {engine.badSamples(), engine.firstBadSample_s(), engine.profileUse()};
}

} // namespace headland::files
