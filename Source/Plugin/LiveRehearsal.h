// SPDX-License-Identifier: GPL-3.0-or-later
// A program rehearsed live: heard once with the stylus up, and found again while it is cut, so that what is known of it reaches beyond
// the preview. What the preview head hears comes from the audio thread bin by bin; while it is listened to it becomes a profile, and
// from the moment the stylus goes down it is looked for in that.
// Threads: its own, beside the audio thread; listen(), stopListening() and report() of the main thread, the others of
// the service. They share a lock that the audio thread never sees.
#pragma once

#include "Align/ProfileAligner.h"
#include "Plan/Profile.h"
#include "Plugin/AudioSide.h"

#include <juce_core/juce_core.h>

#include <cstdint>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace headland::plugin {

/// How things stand, for people.
struct LiveRehearsalReport {
    bool isListening = false;
    double heard_s = 0;  ///< so far, while it listens
    double length_s = 0; ///< of what is known; 0: nothing
    std::string
        why; ///< why the listening ended by itself, or what is known cannot be used, one sentence; empty: neither
};

/// What is being heard.
struct Listening {
    std::uint32_t serial = 0; ///< of the set-up; 0: nothing has come yet
    std::int64_t next = 0;    ///< bin
    plan::Profile heard;
};
/// A cut in which the program is looked for.
struct Following {
    std::uint32_t serial;
    std::int64_t first, next; ///< bins
    align::ProfileAligner aligner;
    std::vector<plan::ProfileBin> heard; ///< not given to the aligner yet
};

class LiveRehearsal : private juce::Thread {
public:
    /// Longer than any side; the listening ends there.
    static constexpr double longest_s = 2 * 3600;

    explicit LiveRehearsal(Link& link);
    ~LiveRehearsal() override;

    /// Listens from now on, for what was heard before to be replaced. Does nothing while it listens.
    void listen();
    /// What was heard is known from now on; nothing is changed when there was nothing.
    void stopListening();
    LiveRehearsalReport report() const;

    /// A set-up is about to be handed over to the audio thread; this is what the excursions heard with it will be made with.
    void expect(std::uint32_t serial, const plan::ProfileTerms& terms);
    /// What is known, if it can be found again with such a set-up; null otherwise.
    std::shared_ptr<const plan::Profile> profileFor(const plan::ProfileTerms& terms);
    /// Counted on when something else is known.
    std::uint32_t changes() const noexcept { return changes_.seen(); }

    /// Ends the thread.
    void stop();
    /// Does at once what the thread does ten times a second: for tests.
    void step();

private:
    void run() override;
    void take(const handoff::HeardBin& bin);
    void hear(const handoff::HeardBin& bin);
    void follow(const handoff::HeardBin& bin);
    void endListening(const std::string& why);
    void tellIfWanted() noexcept;

    Link& link;
    handoff::Cell<std::uint32_t> changes_{0};

    std::mutex stepping;                  // whoever steps: what comes from the audio thread, and
    std::vector<handoff::HeardBin> taken; ///< scratch
    std::optional<Following> following;

    mutable std::mutex lock; // everything below; taken after the other
    std::optional<Listening> listening;
    std::shared_ptr<const plan::Profile> known;
    std::map<std::uint32_t, plan::ProfileTerms> terms; ///< of set-ups handed over
    std::string why, unfit;
};

} // namespace headland::plugin
