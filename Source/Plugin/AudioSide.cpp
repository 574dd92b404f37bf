// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/AudioSide.h"

namespace headland::plugin {

using handoff::CutEnd;
using handoff::CutEvent;

void AudioSide::prepare(std::optional<cut::Cue> hostCue) noexcept {
    takeOver();
    for (cut::Cue forgotten{}; link.cues.pop(forgotten);) {
    }
    lastHostCue = hostCue;
    end();
}

void AudioSide::takeOver() noexcept {
    auto* present = link.cuts.current();
    if (present == nullptr || present->isIdle())
        link.cuts.take([](LiveCut& newest, LiveCut& before) noexcept { newest.inherit(before); });
}

void AudioSide::begin(std::optional<cut::Cue> hostCue) noexcept {
    takeOver();
    for (cut::Cue asked{}; link.cues.pop(asked);)
        cue(asked);
    if (hostCue && hostCue != lastHostCue)
        cue(*hostCue);
    lastHostCue = hostCue;
}

bool AudioSide::process(const LiveIo& io, int count, const LiveSettings& ridden) noexcept {
    auto* live = link.cuts.current();
    if (live == nullptr)
        return false;
    live->process(io, count, ridden, *this);
    noteEnd();
    return true;
}

void AudioSide::cue(cut::Cue cue) noexcept {
    auto* live = link.cuts.current();
    const auto refused = cue == cut::Cue::leadIn && link.setupRefused.get() != 0;
    if (live == nullptr || refused || !live->cue(cue, *this)) {
        status.lastUnheeded = cue;
        ++status.unheededCues;
        return;
    }
    if (cutting && cue == cut::Cue::lift)
        tellEnd(CutEnd::lifted);
}

void AudioSide::liftFor(CutEnd reason) noexcept {
    auto* live = link.cuts.current();
    if (live == nullptr || !live->cue(cut::Cue::lift, *this))
        return;
    if (cutting)
        tellEnd(reason);
}

void AudioSide::end() noexcept {
    if (const auto* live = link.cuts.current()) {
        status.state = live->state();
        status.lowering = live->isLowering();
        status.previewFull = live->previewIsFull();
        status.previewOutside = live->setup().previewOutside;
        status.serial = live->setup().serial;
    }
    status.framesLost = link.events.refused();
    link.status.publish(status);
}

void AudioSide::frame(const cut::CutFrame& frame) noexcept {
    const auto serial = link.cuts.current()->setup().serial;
    if (!cutting) {
        cutting = true;
        ++status.cuts;
        link.events.push({CutEvent::Kind::begun, {}, serial, {}});
    }
    status.frame = frame;
    link.events.push({CutEvent::Kind::frame, {}, serial, frame});
}

void AudioSide::tellEnd(CutEnd reason) noexcept {
    cutting = false;
    status.lastEnd = reason;
    link.events.push({CutEvent::Kind::ended, reason, link.cuts.current()->setup().serial, {}});
}

/// The stylus came up by itself after the finishing groove.
void AudioSide::noteEnd() noexcept {
    if (cutting && link.cuts.current()->state() == cut::State::up)
        tellEnd(CutEnd::finished);
}

} // namespace headland::plugin
