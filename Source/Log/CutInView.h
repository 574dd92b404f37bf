// SPDX-License-Identifier: GPL-3.0-or-later
// A cut as somebody who watches it wants it: its frames, the groove of the last turns, and the places that are kept around
// what was flagged; in memory, whether or not it is logged. One thread at a time, not the audio thread.
#pragma once

#include "Log/EdgeKeeper.h"
#include "Log/EdgeRing.h"

#include <cstddef>
#include <map>
#include <optional>
#include <vector>

namespace headland::log {

class CutInView {
public:
    /// Turns before the stylus that atStylus() shows.
    static constexpr int turnsBefore = 3;

    CutInView(const cut::CutSettings& settings, double sampleRate_hz);

    void edges(const cut::EdgeRun& run);
    void frame(const cut::CutFrame& frame);
    /// The cut has ended: places that wait for turns to come are kept as they are.
    void finish();

    const cut::CutSettings& settings() const noexcept { return made; }
    double sampleRate_hz() const noexcept { return rate_hz; }
    /// Frames after the first `seen`.
    std::vector<cut::CutFrame> framesAfter(std::size_t seen) const;

    /// The groove just cut and the turns before it, over `halfLength_mm` on either side of a place so far behind the
    /// stylus; nothing while there is none.
    std::optional<cut::GroovePatch> atStylus(double halfLength_mm) const;
    /// The kept place nearest to a program time, if it is at most `within_s` away.
    std::optional<cut::GroovePatch> keptNear(double time_s, double within_s) const;

private:
    cut::CutSettings made;
    double rate_hz;
    std::vector<cut::CutFrame> frames;
    std::map<int, PlaceRecord> places; ///< by number
    EdgeKeeper keeper;
    EdgeRing ring;
};

} // namespace headland::log
