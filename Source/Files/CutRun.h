// SPDX-License-Identifier: GPL-3.0-or-later
// A program file cut from beginning to end: blocks from the file into the engine, frames into the sink. Memory does not
// grow with the file. One thread.
#pragma once

#include "Cut/CutEngine.h"
#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Files/ProgramFile.h"
#include "Plan/Profile.h"

#include <cstdint>
#include <functional>
#include <memory>

namespace headland::files {

/// What a run knows that the frames do not.
struct CutOutcome {
    std::int64_t badSamples = 0; ///< NaN, infinite or absurd; cut as silence
    double firstBadSample_s = 0; ///< program time of the first of them
    cut::ProfileUse profile{};
};

/// Called between blocks with how far the cut is, 0 to 1; may throw to end it there.
using BetweenBlocks = std::function<void(double fraction)>;

/// Cuts the program, which must be at its beginning, with settings that are valid for its rate. Throws InputError when
/// the file cannot be read on, and whatever `between` throws.
/// `profile`: what a rehearsal of the same program has left; none: it is cut without one.
CutOutcome cutProgram(ProgramFile& program, const cut::CutSettings& settings, cut::FrameSink& sink,
                      const BetweenBlocks& between, std::shared_ptr<const plan::Profile> profile = {});

} // namespace headland::files
