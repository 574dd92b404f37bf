// SPDX-License-Identifier: GPL-3.0-or-later
// A sink that keeps every frame and every edge of a cut, and what can be measured on them by hand.
#pragma once

#include "Disc/SectorClock.h"
#include "Tests/Cut/TestPrograms.h"

namespace headland::test {

class EdgeKeep : public cut::FrameSink {
public:
    void frame(const cut::CutFrame& f) noexcept override {
        frames.push_back(f);
        ends.push_back(points.size());
    }
    bool wantsEdges() const noexcept override { return true; }
    void edges(const cut::EdgeRun& run) noexcept override {
        isInOrder &= run.firstSample == static_cast<std::int64_t>(points.size());
        loweredRadius_mm = run.loweredRadius_mm;
        points.insert(points.end(), run.points.begin(), run.points.end());
    }

    std::vector<cut::CutFrame> frames;
    std::vector<std::size_t> ends; ///< samples cut when the frame came
    std::vector<cut::EdgePoint> points;
    double loweredRadius_mm = 0;
    bool isInOrder = true;
};

inline EdgeKeep cutWithEdges(const cut::CutSettings& settings, const Program& p, std::size_t block = 4096) {
    cut::CutEngine engine;
    engine.prepare(settings, p.rate_hz);
    EdgeKeep keep;
    for (std::size_t i = 0; i < p.length(); i += block)
        engine.process(&p.left[i], &p.right[i], static_cast<int>(std::min(block, p.length() - i)), keep);
    engine.finish(keep);
    return keep;
}

/// Land at a sample, against the turn before, which may lie between two samples; NaN on the first turn.
inline double landAt_um(const EdgeKeep& keep, std::size_t sample, double turn_samples) {
    const auto before = static_cast<double>(sample) - turn_samples;
    if (before < 0)
        return std::numeric_limits<double>::quiet_NaN();
    const auto whole = static_cast<std::size_t>(before);
    const auto share = before - std::floor(before);
    const double inner = keep.points[whole].inner_um,
                 next = keep.points[whole + (share > 0 ? 1 : 0)].inner_um;
    return inner + share * (next - inner) - keep.points[sample].outer_um;
}

} // namespace headland::test
