// SPDX-License-Identifier: GPL-3.0-or-later
// The processor's own thread behind the audio thread: makes set-ups from the parameters and hands them over, takes
// frames and puts them into the journal, tells others how things stand. Works in any host, with or without windows.
// Threads: its own; prepare(), report() and setJournal() of the main thread, which share a lock with it that the audio
// thread never sees.
#pragma once

#include "Cut/RehearsedProgram.h"
#include "Plugin/AudioSide.h"
#include "Plugin/Journal.h"
#include "Plugin/LiveRehearsal.h"
#include "Plugin/Parameters.h"

#include <juce_core/juce_core.h>

#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

namespace headland::plugin {

/// How things stand, for people: a view, OSC, a host's window.
struct Report {
    handoff::LiveStatus status;
    LiveSetup setup; ///< the newest that can be cut with
    std::vector<std::string>
        problems;                  ///< why the set-up as it stands cannot be cut with; the stylus stays up
    bool changesWait = false;      ///< the set-up was changed with the stylus down: it waits until that is up
    std::string journalTrouble;    ///< what is wrong with the log, one sentence; empty when nothing is
    std::string tellTrouble;       ///< the same of what is told to other programs
    LiveRehearsalReport rehearsal; ///< live
};

/// What a set-up has to fit beside the parameters.
struct Occasion {
    double sampleRate_hz = 0; ///< 0: none yet
    bool hasPreviewInput = false;
    bool previewInputIsChosen = false; ///< somebody switched it on; otherwise the host gave it unasked
    std::optional<log::ProgramRecord>
        program; ///< the file, where one is cut; its length counts where the set-up has none
    cut::RehearsedProgram rehearsed; ///< what a rehearsal of that file has left
};

class Service : private juce::Thread {
public:
    /// `onChange` is called on the service thread when the latency or the format's parameters may have changed, and when the
    /// stylus has come up.
    Service(Link& link, Parameters& parameters, std::function<void()> onChange);
    ~Service() override;

    /// Main thread, while no block is being processed: makes a set-up for this occasion at once.
    void prepare(const Occasion& occasion);

    /// Main thread: ends the thread, after everything the audio thread has left behind; nothing is called afterwards.
    void stop();

    /// Main thread.
    Report report() const;
    /// Samples the output will be behind the input with the newest set-up.
    int latency_samples() const noexcept { return latency.get(); }
    /// What is coming: asks the audio thread, and takes its last answer if there is one since the last call. One window at a
    /// time; nobody waits.
    bool foresee(plan::Foresight& coming) noexcept;
    /// Main thread.
    LiveRehearsal& rehearsal() noexcept { return liveRehearsal; }
    void setJournal(std::unique_ptr<Journal> wanted);
    /// Where cuts are logged from the next one on.
    void chooseBook(const BookChoice& wanted);
    /// A note on the cut that is counted `cut` (LiveStatus::cuts). False: it is not kept, another cut having begun, or
    /// that one being in no book.
    bool note(std::uint32_t cut, const log::NoteRecord& note);
    /// Called 50 times a second on the service thread, with how things stand, to tell other programs; returns what is
    /// wrong with that, one sentence, or nothing.
    using Tell = std::function<std::string(const handoff::LiveStatus&)>;
    void setTell(Tell wanted);

    /// Does at once what the thread does 50 times a second: for tests and for when the thread is to be waited for.
    void step();

private:
    void run() override;
    void makeCut();
    bool stylusIsDown() const noexcept;
    bool hasChanged() const noexcept;
    void readEvents();
    void take(const handoff::CutEvent& event);
    void readEdges();
    void tellIfEdgesAreWanted();
    void passEdges(const handoff::CutEvent& before);

    Link& link;
    Parameters& parameters;
    std::function<void()> onChange;
    LiveRehearsal liveRehearsal{link};

    mutable std::mutex lock; // everything below
    std::unique_ptr<Journal> journal;
    Tell tell;
    Report shown;
    Occasion occasion;
    std::uint32_t knownChanges = 0, knownRehearsals = 0;
    std::map<std::uint32_t, LiveSetup> setups; ///< handed over, as long as frames of theirs may come
    std::uint32_t lastSerial = 0;
    std::vector<handoff::CutEvent> taken;
    std::vector<handoff::EdgeChunk> takenEdges;
    std::deque<handoff::EdgeChunk> edges; ///< not passed on yet
    std::uint64_t edgesPassed = 0;        ///< chunks, since the processor was made
    std::uint32_t latestCut = 0;          ///< that the journal has been told of
    handoff::Cell<int> latency{0};
};

} // namespace headland::plugin
