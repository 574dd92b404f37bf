// SPDX-License-Identifier: GPL-3.0-or-later
// What the audio thread does, without the host: takes over new set-ups while the stylus is up, heeds cues, runs the cut,
// and tells the other threads. Link is all that they share. Audio thread; nothing here allocates, locks or throws.
#pragma once

#include "HandOff/Cell.h"
#include "HandOff/Exchange.h"
#include "HandOff/Latest.h"
#include "HandOff/LiveEvents.h"
#include "HandOff/Queue.h"
#include "Plugin/LiveCut.h"

#include <optional>

namespace headland::plugin {

/// The places between the audio thread and the service thread.
struct Link {
    /// At the fastest (800 sectors a turn, 90 rpm) and a hundred times real time, a quarter of a second of frames.
    static constexpr std::size_t eventsMax = 1 << 15;
    /// Of a profile: 18 s at 33 1/3.
    static constexpr std::size_t heardMax = 1 << 12;
    /// Five seconds at 96 kHz, so a quarter of a second of a file cut twenty times as fast.
    static constexpr std::size_t edgesMax = 1 << 13;

    handoff::Exchange<LiveCut> cuts;                     ///< to the audio thread
    handoff::Queue<cut::Cue> cues{64};                   ///< from the main thread to the audio thread
    handoff::Cell<std::uint32_t> marks{0};               ///< counted on by the main thread, one a mark
    handoff::Queue<handoff::CutEvent> events{eventsMax}; ///< from the audio thread
    handoff::Queue<handoff::EdgeChunk> edges{edgesMax}; ///< from the audio thread, all of a frame's before it
    handoff::Cell<int> edgesWanted{0};                  ///< 1: somebody takes them
    handoff::Queue<handoff::HeardBin> heard{heardMax};  ///< from the audio thread to the live rehearsal
    handoff::Cell<int> heardWanted{0};                  ///< 1: that takes them
    handoff::Latest<handoff::FoundPosition> found;      ///< from the live rehearsal to the audio thread
    handoff::Latest<handoff::LiveStatus> status;        ///< from the audio thread
    handoff::Latest<plan::Foresight> foresight; ///< from the audio thread, once each time it is wanted
    handoff::Cell<int> foresightWanted{0};      ///< 1: by a window that can be seen
    handoff::Cell<int> setupRefused{0};         ///< 1: the stylus stays up
};

class AudioSide final : private cut::FrameSink {
public:
    explicit AudioSide(Link& link) : link(link) {}

    /// Before the first block at a rate: takes over the set-up made for it. What was asked for earlier, and where the host's
    /// parameter happens to stand, lowers nothing.
    void prepare(std::optional<cut::Cue> hostCue) noexcept;

    /// Begins a block: takes over a new set-up if the stylus is up, and heeds what was asked for since the last block.
    /// `hostCue`: what the host's parameter asks for; heeded when it changes.
    void begin(std::optional<cut::Cue> hostCue) noexcept;

    /// The next samples of the block. False when there is no set-up yet: nothing was written.
    bool process(const LiveIo& io, int count, const LiveSettings& ridden) noexcept;

    /// Between two samples.
    void cue(cut::Cue cue) noexcept;

    /// Between two samples: a person marks the place.
    void mark() noexcept;

    /// Ends a block: tells how things stand.
    void end() noexcept;

    /// Lifts the stylus for a reason that is not the engineer's. While no block is being processed also for the main
    /// thread.
    void liftFor(handoff::CutEnd reason) noexcept;

    /// The set-up at work, or null.
    const LiveCut* current() noexcept { return link.cuts.current(); }

private:
    void frame(const cut::CutFrame& frame) noexcept override;
    bool wantsEdges() const noexcept override { return link.edgesWanted.get() != 0; }
    void edges(const cut::EdgeRun& run) noexcept override;
    bool wantsHeard() const noexcept override { return link.heardWanted.get() != 0; }
    void heard(const plan::ProfileBin& bin, std::int64_t number) noexcept override;
    void takeOver() noexcept;
    void heedMarks() noexcept;
    handoff::CutEvent event(handoff::CutEvent::Kind kind) const noexcept;
    void tellBeginning() noexcept;
    template <typename Part>
    void tellChange(handoff::CutEvent::Kind kind, Part handoff::CutEvent::*part, const Part& now,
                    Part& known) noexcept;
    /// Others know of the cut under way.
    bool isTold() const noexcept { return cutting && beginningTold; }
    void tellEnd(handoff::CutEnd reason) noexcept;
    void tellPendingEnd() noexcept;
    void noteEnd() noexcept;
    void tellForesight() noexcept;

    Link& link;
    handoff::LiveStatus status;
    std::optional<cut::Cue> lastHostCue;
    bool cutting = false;                        ///< frames of a cut have come and not yet its end
    bool beginningTold = false;                  ///< of that cut; it is told again until there is room
    std::optional<handoff::CutEvent> pendingEnd; ///< there was no room for it yet
    bool discEnded = false;                      ///< a frame of that cut has said so
    std::int64_t frames = 0;                     ///< of that cut, those that were lost too
    std::uint64_t chunks = 0;                    ///< of edges that found room
    handoff::Ridden ridden, toldRidden;
    cut::ProfileUse toldRehearsal;
    std::uint32_t knownMarks = 0;
    plan::Foresight coming; ///< scratch
};

} // namespace headland::plugin
