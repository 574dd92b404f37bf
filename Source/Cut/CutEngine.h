// SPDX-License-Identifier: GPL-3.0-or-later
// The whole chain in order — feed, groove, plan, lathe, check — sector by sector, as one object that plug-in and
// console drive through prepare, process and finish. Time is counted in samples and sectors only; the frames are
// the same bits for every block size. process() and finish() allocate nothing, lock nothing and throw nothing.
#pragma once

#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Cut/LatheTruth.h"

#include <cstdint>
#include <memory>

namespace headland::cut {

/// Cuts one side.
class CutEngine {
public:
    CutEngine();
    ~CutEngine();

    /// Sizes everything for a cut and puts the stylus over the start of the lead-in. `settings` must be valid
    /// (validate() returned nothing); throws std::invalid_argument with the problems otherwise. Not for the audio thread.
    /// `truth` is how the machine really is where it is not as set up; the plan does not know it.
    void prepare(const CutSettings& settings, double sampleRate_hz, const LatheTruth& truth = {});

    /// Cuts at most `frameCount` samples of the lead-in that comes before the program, so that no call is long on the
    /// audio thread; process() cuts what is left of it. Returns true when the program may begin.
    bool leadInSome(int frameCount, FrameSink& sink) noexcept;

    /// Takes the next `frameCount` samples of program (full scale = ±1) as they reach the preview head and cuts what
    /// reaches the stylus meanwhile; each finished sector goes to `sink`. Mono program: pass the same pointer twice.
    void process(const float* left, const float* right, int frameCount, FrameSink& sink) noexcept;

    /// The program has ended: cuts what is still in the preview, the lead-out and the finishing groove.
    /// The same as finishSome() until it is done.
    void finish(FrameSink& sink) noexcept;

    /// As finish(), at most `frameCount` samples further, so that a caller can show progress or stop.
    /// Returns true when the stylus is up.
    bool finishSome(int frameCount, FrameSink& sink) noexcept;

    /// Samples the cut is behind the program: the preview.
    std::int64_t previewSamples() const noexcept;
    /// Samples of program that were NaN, infinite or absurd and have been cut as silence.
    std::int64_t badSamples() const noexcept;
    /// Program time of the first of them, s.
    double firstBadSample_s() const noexcept;

private:
    class Chain;
    std::unique_ptr<Chain> chain;
};

} // namespace headland::cut
