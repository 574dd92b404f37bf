// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/ProgramRehearsal.h"

#include "Cut/ProfileScale.h"
#include "Cut/WallDesign.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace headland::cut {

namespace {

/// Never smaller than it was.
float excursion(double um) {
    return std::nextafter(std::max(0.0f, static_cast<float>(um)), std::numeric_limits<float>::infinity());
}

plan::ProfileBin binOf(const plan::SectorExtremes& swings) {
    return {excursion(swings.outer_um), excursion(swings.inner_um), excursion(swings.upward_um)};
}

} // namespace

ProgramRehearsal::ProgramRehearsal(const CutSettings& s, double rate_hz)
    : sampleRate_hz((requireValid(s, rate_hz), rate_hz)), // before anything is made of them
      clock(rate_hz, s.turn_s(), plan::Profile::binsPerTurn),
      walls(wallDesign(s, rate_hz)),
      left(pieceMost),
      right(pieceMost),
      leftWall_um(pieceMost),
      rightWall_um(pieceMost) {
    heard.made = profileTerms(s);
}

void ProgramRehearsal::process(const float* newLeft, const float* newRight, int frameCount) {
    for (std::int64_t done = 0; done < frameCount;) {
        const auto binEnd = clock.boundary(static_cast<std::int64_t>(heard.bins.size()) + 1);
        const auto count = std::min({frameCount - done, binEnd - position, pieceMost});
        processPiece(newLeft + done, newRight + done, static_cast<std::size_t>(count));
        done += count;
        position += count;
        if (position == binEnd)
            endBin();
    }
}

void ProgramRehearsal::processPiece(const float* newLeft, const float* newRight, std::size_t count) {
    std::copy_n(newLeft, count, left.begin());
    std::copy_n(newRight, count, right.begin());
    const auto l = std::span(left).first(count), r = std::span(right).first(count);
    const auto lWall = std::span(leftWall_um).first(count), rWall = std::span(rightWall_um).first(count);
    guard.clean(l, r);
    walls.process(l, r, lWall, rWall);
    collector.add(lWall, rWall);
}

void ProgramRehearsal::endBin() {
    heard.bins.push_back(binOf(collector.take()));
    walls.flushResidue();
}

plan::Profile ProgramRehearsal::profile() const {
    auto whole = heard;
    whole.length_s = static_cast<double>(position) / sampleRate_hz;
    auto last = collector;
    if (clock.boundary(static_cast<std::int64_t>(heard.bins.size())) < position)
        whole.bins.push_back(binOf(last.take()));
    return whole;
}

} // namespace headland::cut
