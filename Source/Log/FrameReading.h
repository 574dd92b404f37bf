// SPDX-License-Identifier: GPL-3.0-or-later
// The rows of a cut's frames out of a book, by the hundred thousand: packed as they come, by several threads where there are
// many, each with a connection of its own. What no frame can be is refused. Any one thread, not the audio thread.
#pragma once

#include "Log/Database.h"
#include "Log/FrameList.h"

#include <cstdint>
#include <functional>
#include <stdexcept>
#include <vector>

namespace headland::log {

/// A row is not what it can be; the text says what there is, to stand behind "has": "a frame of a state there is not".
class DamagedRow : public std::runtime_error {
public:
    using std::runtime_error::runtime_error;
};

/// Frames in the order of their numbers.
struct NumberedFrames {
    /// Of numbers that follow each other.
    struct Run {
        std::int64_t first, last;
    };

    FrameList frames;
    std::vector<Run> runs; ///< in order
};

/// No side has more frames: 150 mm of radius at 20 µm a turn and 800 sectors are six million. A book that says so is refused
/// before it fills the memory.
inline constexpr std::size_t framesMost = 8'000'000;
inline constexpr std::int64_t numberMost =
    1'000'000'000'000; ///< of a frame, also of one that is lost: no cut comes near

/// Reads the frames of a cut. `another` opens the same book once more, for another thread; empty: there is to be none. Frames
/// that come into the book meanwhile are left out; more than `most` are refused. Throws DatabaseError or DamagedRow.
NumberedFrames readFrames(Database& book, const std::function<Database()>& another, std::int64_t cut,
                          std::size_t most = framesMost);

} // namespace headland::log
