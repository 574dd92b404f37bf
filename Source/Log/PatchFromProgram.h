// SPDX-License-Identifier: GPL-3.0-or-later
// The turns around one place of a cut, made again from the program's file and the frames of the cut: the walls by the
// filters of the engine, from the program's first sample on, so that they are the very walls that were cut; centre line
// and depth between the ends of the sectors, where the frames know them. What comes out is compared with what the cut
// measured, so that another file is not taken for the program. Memory does not grow with the file. One thread, not the
// audio thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/FrameView.h"
#include "Cut/GroovePatch.h"
#include "Files/ProgramFile.h"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace headland::log {

/// A cut as it was logged.
struct FramesOfCut {
    const cut::CutSettings& settings;
    double sampleRate_hz;
    cut::FrameView frames; ///< of one cut, in order, from the first sector on
};

/// What is wanted of it.
struct PatchWish {
    double time_s = 0;          ///< program time of the place, within the cut
    int turnsEachSide = 2;      ///< 0 to 20
    double halfLength_mm = 1.2; ///< of the view along the groove, 0.01 to 20
};

/// A sector as the program's file gives it, every sample looked at.
struct SectorCheck {
    std::size_t frame; ///< index of the sector's frame
    double landMin_um; ///< NaN while there is no turn before
    double widthMin_um;
    double landMinAt_s; ///< program time of the sample where the land is least; NaN as landMin_um
    double widthMinAt_s;
};

struct ProgramPatch {
    cut::GroovePatch patch;
    /// The sectors at the angle of the place, one a turn that was cut, in order of time; each agrees with its frame.
    std::vector<SectorCheck> checked;
};

/// How far the least land or width of a sector may be from the frame's before the file is not the program that was cut.
/// Making it again costs less than 0.001 µm (tests); a program 0.1 dB louder moves a wall's swing of 20 µm by 0.23 µm.
inline constexpr double samePatch_um = 0.1;

/// Reads the program, which must be at its beginning, as far as the patch needs and makes the patch. `programName` is the
/// file's as shown to a person. `between` is called between blocks with how far the work is, 0 to 1; it may throw to end
/// it there. Before time 0 and after its end the program is silence, as in the cut.
/// Throws InputError, one sentence, for a time outside the cut, a program of another sample rate, one that is not the
/// program that was cut, or when the file cannot be read on; std::invalid_argument for a wish out of range or a program
/// that is not at its beginning.
ProgramPatch patchFromProgram(files::ProgramFile& program, const std::string& programName,
                              const FramesOfCut& logged, const PatchWish& wish,
                              const std::function<void(double fraction)>& between);

} // namespace headland::log
