// SPDX-License-Identifier: GPL-3.0-or-later
// Keeps the groove around the worst place of every flagged passage, as it will be wanted under the microscope: the turn of
// the place and two on either side, over 1.6 mm. The last turns' edges are held in a ring; the turns that come after the
// place are waited for. Of each kind of flag the sixteen worst passages are kept. One thread, not the audio thread.
#pragma once

#include "Cut/CutSummary.h"
#include "Log/CutRecord.h"
#include "Log/EdgeRing.h"

#include <functional>
#include <map>
#include <vector>

namespace headland::log {

class EdgeKeeper {
public:
    static constexpr int turnsEachSide = 2;
    static constexpr double halfView_mm = 0.8;
    static constexpr int placesOfAFlag = 16;

    /// Takes a place; one of a number that was given before replaces that.
    using Keep = std::function<void(int number, const PlaceRecord& place)>;

    EdgeKeeper(const cut::CutSettings& settings, double sampleRate_hz, Keep keep);

    /// The next edges; they may be up to three turns ahead of the frames. Where some are missing, no place has them.
    void edges(const cut::EdgeRun& run);
    void frame(const cut::CutFrame& frame);
    /// The cut has ended: what is waited for does not come any more.
    void finish();

private:
    /// A place that is still waited for: turns to come are not in the ring yet.
    struct Awaited {
        int number;
        PlaceRecord place;
        std::int64_t middle;  ///< its sample
        std::size_t captured; ///< how many of its turns have been taken out of the ring
    };
    struct Passage {
        bool open = false;
        double end_s = 0;
        cut::Figure worst{};
        int number = -1; ///< of its place; -1: none, there are worse ones
    };

    std::int64_t worstSample(const cut::CutFrame& frame, cut::Flag flag) const;
    double badness(std::int64_t sample, cut::Flag flag) const noexcept;
    void look(const cut::CutFrame& frame, cut::Flag flag, Passage& passage);
    int numberFor(cut::Flag flag, const cut::Figure& figure);
    void await(int number, const cut::CutFrame& frame, cut::Flag flag);
    void capture(Awaited& awaited, bool isLast);
    void captureAll(bool isLast);

    cut::CutSettings settings;
    double sampleRate_hz;
    double turn_samples;
    Keep keep;
    EdgeRing ring;
    std::array<Passage, cut::flagCount> passages{};
    std::map<int, std::pair<cut::Flag, cut::Figure>> kept; ///< by number: what it is of, and how bad
    std::vector<Awaited> awaited;
};

} // namespace headland::log
