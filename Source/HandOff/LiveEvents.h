// SPDX-License-Identifier: GPL-3.0-or-later
// What the audio thread tells the others: every frame and where cuts begin and end, in order and none left out; and how
// things stand now. Plain data.
#pragma once

#include "Cut/Cue.h"
#include "Cut/CutFrame.h"

#include <cstdint>

namespace headland::handoff {

/// Why a cut ended.
enum class CutEnd : std::uint8_t {
    finished,    ///< after the finishing groove
    lifted,      ///< by a cue
    rateChanged, ///< fault: the host changed the sample rate with the stylus down
    stopped,     ///< fault: the host stopped or suspended the processor
    bypassed     ///< fault: the host bypassed it
};

/// One entry of the stream.
struct CutEvent {
    enum class Kind : std::uint8_t { begun, frame, ended };
    Kind kind;
    CutEnd end;           ///< of an ended cut
    std::uint32_t serial; ///< of the set-up it is cut with
    cut::CutFrame frame;  ///< of a frame
};

/// How things stand, once a block.
struct LiveStatus {
    cut::State state = cut::State::up;
    bool lowering = false;       ///< told to go down, not down yet
    bool previewFull = false;    ///< a whole preview has been heard: the stylus may go down
    bool previewOutside = false; ///< a second head makes the preview
    std::uint32_t serial = 0;    ///< of the set-up in use; 0: none
    std::uint32_t cuts = 0;      ///< begun since the processor was made
    CutEnd lastEnd = CutEnd::finished;
    std::uint32_t unheededCues = 0;
    cut::Cue lastUnheeded = cut::Cue::lift; ///< meant nothing when it was given
    std::uint64_t framesLost = 0;           ///< no room in the stream: said, never hidden
    cut::CutFrame frame{};                  ///< the latest
};

} // namespace headland::handoff
