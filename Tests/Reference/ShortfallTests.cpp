// SPDX-License-Identifier: GPL-3.0-or-later
// The shortfall that is announced, against the least by which any controller must miss: at every sector of the approach to
// a stroke out of silence, a linear program over what the preview shows then, solved with COIN-OR Clp from where the lathe
// is then. So it is neither called late, nor too small, nor without need.
#include "Tests/Cut/TestPrograms.h"
#include "Tests/Reference/OptimumRun.h"

#include <catch2/catch.hpp>

using namespace headland;
using namespace headland::reference;

namespace {

constexpr double stroke_s = 12;

/// Mono, so that the depth stays as it is and the demand is known as soon as the sound is.
Recording stroke(double amplitude) {
    auto p = test::silence(stroke_s + 6);
    test::addTone(p, stroke_s, 0.5, 40, amplitude);
    Recording recording{p.rate_hz, {}};
    for (std::size_t i = 0; i < p.length(); ++i)
        recording.samples.insert(recording.samples.end(), {p.left[i], p.right[i]});
    return recording;
}

/// Sectors ahead whose demand is fully known: what the preview head has heard, less what its tolerance may move into them.
std::size_t knownAhead(const cut::CutSettings& s) {
    return static_cast<std::size_t>(s.preview_s / s.turn_s() * s.sectors_per_turn)
           - static_cast<std::size_t>(std::ceil(s.preview_tolerance_s / s.sector_s()));
}

} // namespace

TEST_CASE(
    "The shortfall is called as soon as it can be known, with the least that any controller must miss by",
    "[reference][shortfall]") {
    const auto previewTurns = GENERATE(0.2, 0.35, 0.5, 1.0);
    const auto slew_um_s = GENERATE(400.0, 60.0);
    auto settings = settingsFor(previewTurns, 0);
    settings.pitch_slew_um_per_rev_s = slew_um_s;
    const auto frames = cutRecording(settings, stroke(0.5));
    const auto known = knownAhead(settings);
    const auto isNear = [](const cut::CutFrame& f) {
        return f.time_s > stroke_s - 2 && f.time_s < stroke_s + 0.5;
    };
    auto greatestBound_um = 0.0, greatestCalled_um = 0.0;
    auto firstCalled = frames.size(), firstBound = frames.size();
    for (std::size_t i = 1; i + known + 2 < frames.size(); i += 4) {
        if (!isNear(frames[i]))
            continue;
        // A boundary less and a boundary more than is known for certain.
        const auto atLeast_um = leastMiss_um(problemOf(frames, settings, 1, i, i + known));
        const auto atMost_um = leastMiss_um(problemOf(frames, settings, 1, i, i + known + 2));
        INFO(previewTurns << " turns, slew " << slew_um_s << ", " << frames[i].time_s << " s: called "
                          << frames[i].shortfall_um << ", bounds " << atLeast_um << " " << atMost_um);
        CHECK(frames[i].shortfall_um >= atLeast_um - 0.2);
        // The bound is reckoned with the depth that is cut in the end; ahead of a stroke up to 1.4 µm more is planned.
        CHECK(frames[i].shortfall_um <= atMost_um + 1.5);
        if (frames[i].shortfall_um > 0.5)
            firstCalled = std::min(firstCalled, i);
        if (atLeast_um > 0.5)
            firstBound = std::min(firstBound, i);
        greatestBound_um = std::max(greatestBound_um, atLeast_um);
        greatestCalled_um = std::max(greatestCalled_um, frames[i].shortfall_um);
    }
    INFO(previewTurns << " turns, slew " << slew_um_s);
    CHECK(firstCalled == firstBound);
    // The bound has each demand at its sector's end; it may stand at its beginning.
    CHECK(greatestCalled_um == Approx(greatestBound_um).margin(0.6));
    CHECK((greatestBound_um > 30)
          == (previewTurns < 1 || slew_um_s < 100)); // the nimble lathe needs less than a turn
}
