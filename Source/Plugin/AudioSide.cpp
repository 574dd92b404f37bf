// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/AudioSide.h"

#include <algorithm>

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
    tellPendingEnd();
    takeOver();
    for (cut::Cue asked{}; link.cues.pop(asked);)
        cue(asked);
    if (hostCue && hostCue != lastHostCue)
        cue(*hostCue);
    lastHostCue = hostCue;
    heedMarks();
    if (handoff::FoundPosition found; link.found.read(found))
        if (auto* live = link.cuts.current(); live != nullptr && live->setup().serial == found.serial)
            live->found(found.position);
}

void AudioSide::heedMarks() noexcept {
    for (const auto given = link.marks.get(); knownMarks != given; ++knownMarks)
        mark();
}

void AudioSide::mark() noexcept {
    if (!isTold() || !link.events.push(event(CutEvent::Kind::mark)))
        ++status.unheededMarks;
}

bool AudioSide::process(const LiveIo& io, int count, const LiveSettings& wanted) noexcept {
    auto* live = link.cuts.current();
    if (live == nullptr)
        return false;
    ridden = {wanted.land_add_um, wanted.depth_add_um, wanted.level_trim_db};
    live->process(io, count, wanted, *this);
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
    if (!cutting)
        return;
    if (cue == cut::Cue::lift)
        return tellEnd(CutEnd::lifted);
    if (!isTold())
        return;
    auto told = event(CutEvent::Kind::cue);
    told.cue = cue;
    link.events.push(told);
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
        status.rehearsal = live->profileUse();
    }
    link.status.publish(status);
    tellForesight();
}

/// Answers whoever asked, and nobody else: a closed window costs nothing.
void AudioSide::tellForesight() noexcept {
    auto* live = link.cuts.current();
    if (live == nullptr || link.foresightWanted.get() == 0)
        return;
    link.foresightWanted.set(0);
    live->foresee(coming);
    link.foresight.publish(coming);
}

CutEvent AudioSide::event(CutEvent::Kind kind) const noexcept {
    return {.kind = kind,
            .serial = link.cuts.current()->setup().serial,
            .cut = status.cuts,
            .number = frames,
            .chunks = chunks,
            .frame = status.frame};
}

void AudioSide::tellBeginning() noexcept {
    if (!cutting) {
        tellPendingEnd();
        cutting = true;
        beginningTold = false;
        discEnded = false;
        frames = 0;
        toldRidden = {};
        toldRehearsal = {};
        ++status.cuts;
    }
    if (!beginningTold && !pendingEnd)
        beginningTold = link.events.push(event(CutEvent::Kind::begun));
}

/// What may change with every block: one value a sector says all that the groove can show of it.
template <typename Part>
void AudioSide::tellChange(CutEvent::Kind kind, Part CutEvent::*part, const Part& now, Part& known) noexcept {
    if (!isTold() || now == known)
        return;
    auto told = event(kind);
    told.*part = now;
    if (link.events.push(told))
        known = now;
}

void AudioSide::heard(const plan::ProfileBin& bin, std::int64_t number) noexcept {
    const auto* live = link.cuts.current();
    link.heard.push({live->setup().serial, !live->isIdle(), number, bin});
}

void AudioSide::edges(const cut::EdgeRun& run) noexcept {
    handoff::EdgeChunk chunk; // the points are filled as far as they count
    chunk.cut = cutting ? status.cuts : status.cuts + 1;
    chunk.loweredRadius_mm = run.loweredRadius_mm;
    for (std::size_t done = 0; done < run.points.size(); done += chunk.count) {
        const auto rest = run.points.subspan(done);
        chunk.firstSample = run.firstSample + static_cast<std::int64_t>(done);
        chunk.count = static_cast<std::uint32_t>(std::min(rest.size(), handoff::EdgeChunk::pointsMax));
        std::copy_n(rest.begin(), chunk.count, chunk.points.begin());
        if (link.edges.push(chunk))
            ++chunks;
    }
}

void AudioSide::frame(const cut::CutFrame& frame) noexcept {
    tellBeginning();
    if (frames == 0)
        status.frame = frame; // what is told before it must not have the time of an earlier cut
    tellChange(CutEvent::Kind::ridden, &CutEvent::ridden, ridden, toldRidden);
    tellChange(CutEvent::Kind::rehearsal, &CutEvent::rehearsal, link.cuts.current()->profileUse(),
               toldRehearsal);
    status.frame = frame;
    if (!beginningTold || !link.events.push(event(CutEvent::Kind::frame)))
        ++status.framesLost;
    ++frames;
    discEnded = discEnded || frame.has(cut::Flag::discEnd);
}

void AudioSide::tellEnd(CutEnd reason) noexcept {
    cutting = false;
    status.lastEnd = reason;
    if (!beginningTold)
        return; // nobody has heard of that cut
    pendingEnd = event(CutEvent::Kind::ended);
    pendingEnd->end = reason;
    tellPendingEnd();
}

void AudioSide::tellPendingEnd() noexcept {
    if (pendingEnd && link.events.push(*pendingEnd))
        pendingEnd.reset();
}

/// The stylus came up by itself: after the finishing groove, or where the disc ends.
void AudioSide::noteEnd() noexcept {
    if (cutting && link.cuts.current()->state() == cut::State::up)
        tellEnd(discEnded ? CutEnd::discEnded : CutEnd::finished);
}

} // namespace headland::plugin
