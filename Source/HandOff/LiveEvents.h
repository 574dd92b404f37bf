// SPDX-License-Identifier: GPL-3.0-or-later
// What the audio thread tells the others: every frame and where cuts begin and end, in order and none left out; and how
// things stand now. Plain data.
#pragma once

#include "Cut/Cue.h"
#include "Cut/CutFrame.h"
#include "Cut/ProfileUse.h"

#include <array>
#include <cstdint>
#include <span>

namespace headland::handoff {

/// Why a cut ended.
enum class CutEnd : std::uint8_t {
    finished,    ///< after the finishing groove
    discEnded,   ///< by itself too, but because the disc ended: fault, the program went on
    lifted,      ///< by a cue
    rateChanged, ///< fault: the host changed the sample rate with the stylus down
    stopped,     ///< fault: the host stopped or suspended the processor
    bypassed     ///< fault: the host bypassed it
};

/// What the engineer rides during a side.
struct Ridden {
    double landAdd_um = 0;
    double depthAdd_um = 0;
    double levelTrim_db = 0;

    bool operator==(const Ridden&) const = default;
};

/// One entry of the stream. A cut begins, has frames, and ends; in between: a cue that was heeded, another value of what
/// is ridden, a mark of a person's, something else that has become of the rehearsal's profile.
struct CutEvent {
    enum class Kind : std::uint8_t { begun, frame, ended, cue, ridden, mark, rehearsal };
    Kind kind;
    CutEnd end = CutEnd::finished; ///< of an ended cut
    std::uint32_t serial;          ///< of the set-up it is cut with
    std::uint32_t cut;             ///< counted from 1 since the processor was made
    std::int64_t number;  ///< of the frame in its cut, those counted that were lost; else of the next one
    std::uint64_t chunks; ///< of edges told before it, since the processor was made
    cut::CutFrame frame;  ///< the frame; of what is none, the one before it, or else the first
    cut::Cue cue = cut::Cue::lift;
    Ridden ridden{};
    cut::ProfileUse rehearsal{};
};

/// What the preview head has heard in a bin of a profile.
struct HeardBin {
    std::uint32_t serial; ///< of the set-up it was heard with
    bool isDown;          ///< the stylus is down, or told to go down
    std::int64_t number;  ///< since that set-up was taken over
    plan::ProfileBin bin;
};

/// Where the program was found in its profile.
struct FoundPosition {
    std::uint32_t serial = 0; ///< of the set-up it was heard with
    cut::ProfilePosition position;
};

/// Some of the edges of a cut, on their way from the audio thread.
struct EdgeChunk {
    static constexpr std::size_t pointsMax = 64;
    std::uint32_t cut; ///< as CutEvent::cut
    std::uint32_t count;
    double loweredRadius_mm;
    std::int64_t firstSample; ///< as EdgeRun's
    std::array<cut::EdgePoint, pointsMax> points;

    cut::EdgeRun run() const noexcept {
        return {loweredRadius_mm, firstSample, std::span(points).first(count)};
    }
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
    std::uint32_t unheededMarks = 0;        ///< given while nothing was cut
    std::uint64_t framesLost = 0;           ///< no room in the stream: said, never hidden
    cut::CutFrame frame{};                  ///< the latest
    cut::ProfileUse rehearsal{};            ///< what has become of the profile of the rehearsal
};

} // namespace headland::handoff
