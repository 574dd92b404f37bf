// SPDX-License-Identifier: GPL-3.0-or-later
// A program heard before it is cut, as fast as it comes: only what the preview head hears of it, a small part of the work of
// a cut. Leaves a profile. Not for the audio thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Disc/SectorClock.h"
#include "Feed/InputGuard.h"
#include "Groove/WallFilter.h"
#include "Plan/Profile.h"
#include "Plan/SectorExtremes.h"

#include <cstdint>
#include <vector>

namespace headland::cut {

class ProgramRehearsal {
public:
    /// Throws std::invalid_argument with the problems of settings that are not valid for the rate.
    ProgramRehearsal(const CutSettings& settings, double sampleRate_hz);

    /// The next samples of the program (full scale = ±1), of any number; the profile does not depend on how many come at once.
    /// Mono program: the same pointer twice.
    void process(const float* left, const float* right, int frameCount);

    /// The profile of what has been heard.
    plan::Profile profile() const;

private:
    static constexpr std::int64_t pieceMost = 512;
    void processPiece(const float* left, const float* right, std::size_t count);
    void endBin();

    double sampleRate_hz;
    disc::SectorClock clock; ///< of bins
    feed::InputGuard guard;
    groove::DisplacementFilter walls;
    plan::ExtremeCollector collector;
    plan::Profile heard;
    std::vector<float> left, right;
    std::vector<double> leftWall_um, rightWall_um;
    std::int64_t position = 0; ///< samples heard
};

} // namespace headland::cut
