// SPDX-License-Identifier: GPL-3.0-or-later
// One set-up at work on the audio thread: the program's way through (delay, level), the engine, and the control signals.
// Works in pieces of its own size, so that a host's block size is never felt. Made off the audio thread; from then on
// nothing here allocates, locks or throws.
#pragma once

#include "Cut/CutEngine.h"
#include "Feed/InputGuard.h"
#include "Feed/LevelTrim.h"
#include "Feed/PreviewDelay.h"
#include "Plugin/LiveSettings.h"

#include <array>
#include <cstdint>
#include <memory>

namespace headland::plugin {

/// What a LiveCut is made from.
struct LiveSetup {
    cut::CutSettings cut;
    LiveSettings live; ///< the control scales are taken from it; what is ridden comes block by block
    double sampleRate_hz = 48000;
    bool previewOutside = false; ///< a second head makes the preview
    std::uint32_t serial = 0;
    /// Of the file that is cut, whose first sample comes silenceBefore_samples() after the set-up is taken over; or of a live program; null: none.
    std::shared_ptr<const plan::Profile> rehearsed{};
    bool isSought = false; ///< where the program is in that has to be found: CutEngine::found()
    std::shared_ptr<const disc::RehearsedSide>
        rehearsedSide{}; ///< as it was cut with that and this set-up; null: it was not
};

/// A block, in place: each input has been read where the output at the same sample is written. Mono: `right` null.
struct LiveIo {
    const float* left;
    const float* right;
    const float* previewLeft; ///< null: Headland makes the preview
    const float* previewRight;
    float* outLeft;
    float* outRight;
    float* controlPitch; ///< null: no control output
    float* controlDepth;

    /// The same, so many samples further on.
    LiveIo from(int samples) const noexcept {
        const auto on = [samples](auto* pointer) { return pointer == nullptr ? nullptr : pointer + samples; };
        return {on(left),    on(right),    on(previewLeft),  on(previewRight),
                on(outLeft), on(outRight), on(controlPitch), on(controlDepth)};
    }
};

/// Samples from being told to lower the stylus until the axes, from standing, are settled where the cut begins.
std::int64_t runUp_samples(const LiveSetup& setup);

/// Silence before a file that is cut: the lead-in, and what the axes need to get up to speed beyond the preview, which passes
/// anyway before the stylus can go down.
std::int64_t silenceBefore_samples(const LiveSetup& setup);

class LiveCut {
public:
    /// The set-up must be valid (cut::validate()); throws std::invalid_argument otherwise.
    explicit LiveCut(const LiveSetup& setup);

    /// Takes over the program that is under way in the one before, where the delay is the same: nothing is missing from
    /// the output when the set-up changes.
    void inherit(LiveCut& before) noexcept;

    /// Takes a block; `ridden` is what the engineer rides now.
    void process(const LiveIo& io, int count, const LiveSettings& ridden, cut::FrameSink& sink) noexcept;

    /// As CutEngine::cue(); before the stylus is lowered the control signals run up to where the cut begins.
    bool cue(cut::Cue cue, cut::FrameSink& sink) noexcept;

    /// As CutEngine::foresee().
    void foresee(plan::Foresight& coming) noexcept { engine.foresee(coming); }

    const LiveSetup& setup() const noexcept { return made; }
    /// As CutEngine::found().
    void found(const cut::ProfilePosition& position) noexcept { engine.found(position); }
    cut::ProfileUse profileUse() const noexcept { return engine.profileUse(); }
    cut::State state() const noexcept { return engine.state(); }
    bool isLowering() const noexcept { return runUp >= 0 || engine.isLowering(); }
    bool isIdle() const noexcept { return state() == cut::State::up && !isLowering(); }
    bool previewIsFull() const noexcept { return engine.previewIsFull(); }
    /// What the output is behind the input.
    int latency_samples() const noexcept;

private:
    static constexpr int pieceLength = 256;
    using Samples = std::array<float, pieceLength>;
    using Commands = std::array<double, pieceLength>;

    void processPiece(const LiveIo& io, int at, int count, cut::FrameSink& sink) noexcept;
    void bringOwnPreview(const LiveIo& io, int at, std::size_t count) noexcept;
    void takeOutsidePreview(const LiveIo& io, int at, std::size_t count) noexcept;
    void writeControl(const LiveIo& io, int at, std::size_t count, bool lowering) const noexcept;

    LiveSetup made;
    cut::CutEngine engine;
    feed::PreviewDelay delay;
    feed::LevelTrim trim;
    feed::InputGuard guard; ///< of what goes on to the output and the stylus
    std::int64_t runUp =
        -1; ///< samples since lowering was asked for, while the carriage gets up to speed; -1: not
    std::int64_t runUpLength;                    ///< samples the axes need from standing
    double pitchRunUp_um = 0, depthRunUp_um = 0; ///< per sample
    std::int64_t lowered = 0; ///< samples of run-up behind the signals until the stylus is down
    Samples heardLeft{}, heardRight{}, cutLeft{}, cutRight{};
    Commands pitch_um{}, depth_um{};
};

} // namespace headland::plugin
