// SPDX-License-Identifier: GPL-3.0-or-later
// The whole chain in order — feed, groove, plan, lathe, check — sector by sector, as one object: prepare, then either
// process and finish (a program from its first sample to its last, the side runs by itself) or live and cue (a program
// that comes and goes, a person lowers and lifts the stylus). Time is counted in samples and sectors only; the frames are
// the same bits for every block size. All but prepare() allocates nothing, locks nothing and
// throws nothing.
#pragma once

#include "Cut/Cue.h"
#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"
#include "Cut/LatheTruth.h"
#include "Cut/ProfileUse.h"
#include "Disc/RehearsedSide.h"
#include "Plan/CutPlanner.h"

#include <cstdint>
#include <limits>
#include <memory>

namespace headland::cut {

/// Samples of lead-in, as set, before the program's first sample.
std::int64_t leadIn_samples(const CutSettings& settings, double sampleRate_hz);

/// What a command is while the stylus is up: NaN.
inline constexpr auto noCommand = std::numeric_limits<double>::quiet_NaN();

/// A block of the live engine. Program: full scale = ±1; for mono the same pointer twice.
struct LiveBlock {
    const float* heardLeft; ///< what comes to the preview head
    const float* heardRight;
    const float* cutLeft; ///< what comes to the stylus meanwhile: the same program, previewSamples() later
    const float* cutRight;
    int frameCount;
    double* pitch_um; ///< the commands at each sample are put here; noCommand while the stylus is up
    double* depth_um;
};

/// Cuts sides.
class CutEngine {
public:
    CutEngine();
    ~CutEngine();

    /// Sizes everything for a cut; the stylus is up. `settings` must be valid
    /// (validate() returned nothing); throws std::invalid_argument with the problems otherwise. Not for the audio thread.
    /// `truth` is how the machine really is where it is not as set up; the plan does not know it.
    /// `profile` is what a rehearsal of the program has left, for rehearsed(); none: there is no rehearsal. `side` is where the
    /// groove lay when all of it was rehearsed with these settings and that profile; none: it was not.
    void prepare(const CutSettings& settings, double sampleRate_hz, const LatheTruth& truth = {},
                 std::shared_ptr<const plan::Profile> profile = {},
                 std::shared_ptr<const disc::RehearsedSide> side = {});

    /// A side that runs by itself: its program is the rehearsed one from its first sample on. To be called before it begins;
    /// does nothing without a profile, or when its excursions are not those of these settings but for a factor.
    void rehearsed() noexcept;
    /// Live: the same; the program's first sample comes to the preview head so many samples from now.
    void rehearsed(std::int64_t after_samples) noexcept;

    /// Live, with a profile and without rehearsed(): where the program is in it, as has been found out by what was heard(); to be told as often as it is found
    /// out anew. Heeded where the next sector ends at the preview head, once the stylus is down; what hardly differs from the position in use is
    /// not.
    void found(const ProfilePosition& position) noexcept;

    ProfileUse profileUse() const noexcept;

    /// A side that runs by itself: cuts at most `frameCount` samples of the lead-in that comes before the program, so that no call is long on the
    /// audio thread; process() cuts what is left of it. Returns true when the program may begin.
    bool leadInSome(int frameCount, FrameSink& sink) noexcept;

    /// Live: takes the next samples. The preview head always hears, so that the stylus goes down knowing what comes.
    void live(const LiveBlock& block, FrameSink& sink) noexcept;

    /// Live: tells the stylus what to do next. Cue::leadIn lowers it where the next sector begins, at the earliest when a
    /// whole preview has been heard since prepare(); Cue::lift lifts it at once, with a frame for the part of a sector
    /// that was cut. The others are heeded where the next sector begins. False: that means nothing now (a band with
    /// the stylus up, a lead-in in the middle of the program).
    bool cue(Cue cue, FrameSink& sink) noexcept;

    /// Live: from now on heard with the program, and so planned for as if the program itself demanded it.
    void ride(const plan::Ride& ride) noexcept;

    /// What is coming, as things stand between two calls: for views, at most as often as they look. Bounded time.
    void foresee(plan::Foresight& coming) noexcept;

    State state() const noexcept;
    /// Cue::leadIn has been given and the stylus is not down yet.
    bool isLowering() const noexcept;
    /// A whole preview has been heard since prepare().
    bool previewIsFull() const noexcept;

    /// A side that runs by itself: takes the next `frameCount` samples of program (full scale = ±1) as they reach the preview head and cuts what
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
