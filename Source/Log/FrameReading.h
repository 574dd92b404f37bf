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

/// Numbers of frames that follow each other.
struct FrameRun {
    std::int64_t first, last;
};
using FrameRuns = std::vector<FrameRun>; ///< in order

/// Frames in the order of their numbers.
struct NumberedFrames {
    FrameList frames;
    FrameRuns runs;
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

/// Takes a frame and its number.
using FramePass = std::function<void(std::int64_t, const cut::CutFrame&)>;

/// Hands the frames on, in order and without keeping them, in half the time: with the figures that a summary is made of but
/// for what is used and left of the disc, every other absent. `pass` is called on this thread and may read in `book`. Else
/// as readFrames(), of what is read.
FrameRuns passFrames(Database& book, const std::function<Database()>& another, std::int64_t cut,
                     const FramePass& pass);

/// One frame of a cut, with all its figures; it has to be there. Throws DatabaseError or DamagedRow.
cut::CutFrame readFrame(Database& book, std::int64_t cut, std::int64_t number);

} // namespace headland::log
