// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/LiveCut.h"

#include "Disc/SectorClock.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace headland::plugin {

namespace {

std::size_t ownDelay_samples(const LiveSetup& setup, const cut::CutEngine& engine) {
    return setup.previewOutside ? 1 : static_cast<std::size_t>(engine.previewSamples());
}

cut::CutEngine& prepared(cut::CutEngine& engine, const LiveSetup& setup) {
    engine.prepare(setup.cut, setup.sampleRate_hz, {}, setup.rehearsed, setup.rehearsedSide);
    if (setup.rehearsed != nullptr && !setup.isSought)
        engine.rehearsed(silenceBefore_samples(setup));
    return engine;
}

} // namespace

std::int64_t runUp_samples(const LiveSetup& setup) {
    constexpr double settledLags = 4; // e^-4: within 2 % of the way
    const auto& s = setup.cut;
    const auto pitch_s = s.lead_in_pitch_um / s.spiral_slew_um_per_rev_s + settledLags * s.carriage_lag_s;
    const auto depth_s = s.depth_basic_um / s.depth_slew_um_s + settledLags * s.depth_lag_s;
    return static_cast<std::int64_t>(std::ceil(std::max(pitch_s, depth_s) * setup.sampleRate_hz));
}

std::int64_t silenceBefore_samples(const LiveSetup& setup) {
    const auto& s = setup.cut;
    const disc::SectorClock clock(setup.sampleRate_hz, s.turn_s(), s.sectors_per_turn);
    const auto wait = runUp_samples(setup) - std::llround(s.preview_s * setup.sampleRate_hz);
    std::int64_t sector = 0;
    while (clock.boundary(sector) < wait)
        ++sector;
    return clock.boundary(sector) + cut::leadIn_samples(s, setup.sampleRate_hz);
}

LiveCut::LiveCut(const LiveSetup& s)
    : made(s),
      delay(ownDelay_samples(s, prepared(engine, s))),
      trim(s.sampleRate_hz),
      runUpLength(runUp_samples(s)),
      pitchRunUp_um(s.cut.spiral_slew_um_per_rev_s / s.sampleRate_hz),
      depthRunUp_um(s.cut.depth_slew_um_s / s.sampleRate_hz) {}

void LiveCut::inherit(LiveCut& before) noexcept {
    if (made.previewOutside || before.made.previewOutside || latency_samples() != before.latency_samples()
        || made.sampleRate_hz != before.made.sampleRate_hz)
        return;
    std::swap(delay, before.delay);
    std::swap(trim, before.trim);
}

int LiveCut::latency_samples() const noexcept {
    return made.previewOutside ? 0 : static_cast<int>(engine.previewSamples());
}

bool LiveCut::cue(cut::Cue cue, cut::FrameSink& sink) noexcept {
    if (cue == cut::Cue::lift) {
        const auto wasRunningUp = std::exchange(runUp, -1) >= 0;
        return engine.cue(cue, sink) || wasRunningUp;
    }
    if (state() != cut::State::up)
        return engine.cue(cue, sink);
    if (cue != cut::Cue::leadIn || isLowering())
        return false;
    runUp = 0;
    lowered = 0;
    return true;
}

void LiveCut::process(const LiveIo& io, int count, const LiveSettings& ridden,
                      cut::FrameSink& sink) noexcept {
    trim.set(made.previewOutside ? 0 : ridden.level_trim_db);
    engine.ride({ridden.land_add_um, ridden.depth_add_um});
    for (int at = 0; at < count;) {
        if (runUp >= runUpLength) {
            runUp = -1;
            engine.cue(cut::Cue::leadIn, sink);
        }
        const auto toLowering = runUp < 0 ? pieceLength : runUpLength - runUp;
        const auto length = static_cast<int>(std::min<std::int64_t>({count - at, pieceLength, toLowering}));
        processPiece(io, at, length, sink);
        if (runUp >= 0)
            runUp += length;
        at += length;
    }
}

void LiveCut::processPiece(const LiveIo& io, int at, int count, cut::FrameSink& sink) noexcept {
    const auto samples = static_cast<std::size_t>(count);
    if (made.previewOutside)
        takeOutsidePreview(io, at, samples);
    else
        bringOwnPreview(io, at, samples);
    const auto wasLowering = isLowering();
    engine.live({heardLeft.data(), heardRight.data(), cutLeft.data(), cutRight.data(), count, pitch_um.data(),
                 depth_um.data()},
                sink);
    if (io.controlPitch != nullptr)
        writeControl(io, at, samples, wasLowering);
    if (wasLowering)
        lowered += count;
}

void LiveCut::bringOwnPreview(const LiveIo& io, int at, std::size_t count) noexcept {
    const auto* right = io.right == nullptr ? io.left : io.right;
    std::copy_n(io.left + at, count, heardLeft.begin());
    std::copy_n(right + at, count, heardRight.begin());
    const auto of = [count](Samples& samples) { return std::span(samples).first(count); };
    trim.process(of(heardLeft), of(heardRight));
    cutLeft = heardLeft;
    cutRight = heardRight;
    guard.clean(of(cutLeft), of(cutRight)); // the engine sees what came, and flags it
    delay.process(of(cutLeft), of(cutRight));
    std::copy_n(cutLeft.begin(), count, io.outLeft + at);
    if (io.outRight != nullptr)
        std::copy_n(cutRight.begin(), count, io.outRight + at);
}

/// The commands as signals; before the first one, while the stylus is being lowered, the run-up; otherwise rest.
void LiveCut::writeControl(const LiveIo& io, int at, std::size_t count, bool lowering) const noexcept {
    const auto pitchScale = made.live.pitchScale();
    const auto depthScale = made.live.depthScale();
    for (std::size_t i = 0; i < count; ++i) {
        auto pitch = pitch_um[i], depth = depth_um[i];
        if (lowering && std::isnan(pitch)) {
            const auto since = static_cast<double>(lowered) + static_cast<double>(i);
            pitch = std::min(pitchRunUp_um * since, made.cut.lead_in_pitch_um);
            depth = std::min(depthRunUp_um * since, made.cut.depth_basic_um);
        }
        io.controlPitch[at + static_cast<int>(i)] = static_cast<float>(pitchScale.signal(pitch));
        io.controlDepth[at + static_cast<int>(i)] = static_cast<float>(depthScale.signal(depth));
    }
}

void LiveCut::takeOutsidePreview(const LiveIo& io, int at, std::size_t count) noexcept {
    const auto take = [&](const float* from, const float* otherwise, Samples& to) {
        std::copy_n((from == nullptr ? otherwise : from) + at, count, to.begin());
    };
    take(io.previewLeft, io.previewLeft, heardLeft);
    take(io.previewRight, io.previewLeft, heardRight);
    take(io.left, io.left, cutLeft);
    take(io.right, io.left, cutRight);
    auto cleanLeft = cutLeft, cleanRight = cutRight;
    guard.clean(std::span(cleanLeft).first(count), std::span(cleanRight).first(count));
    std::copy_n(cleanLeft.begin(), count, io.outLeft + at);
    if (io.outRight != nullptr)
        std::copy_n(cleanRight.begin(), count, io.outRight + at);
}

} // namespace headland::plugin
