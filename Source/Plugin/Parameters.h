// SPDX-License-Identifier: GPL-3.0-or-later
// All parameters of the processor, made from the settings tables, and the one that is a person's cue to the stylus.
// Threads: values may be read and set on any; the rest belongs to the main thread.
#pragma once

#include "Cut/Cue.h"
#include "Plugin/LiveSettings.h"
#include "Plugin/SettingParameter.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <optional>
#include <vector>

namespace headland::plugin {

class Parameters {
public:
    /// Adds them to the processor, which owns them. The order is that of the tables; IDs are the keys and never change.
    explicit Parameters(juce::AudioProcessor& processor);

    /// The cut as the parameters have it. Wait-free.
    cut::CutSettings cutSettings() const noexcept;
    void set(const cut::CutSettings& settings) noexcept;

    /// The rest, as the parameters have it. Wait-free.
    LiveSettings liveSettings() const noexcept;
    void set(const LiveSettings& settings) noexcept;
    /// One of them, as if a person had set it: one gesture of which the host is told. Main thread.
    void ride(const LiveSetting& setting, double value);

    /// The host asks for this; nothing while the parameter stands at "as it is". Wait-free.
    std::optional<cut::Cue> wantedCue() const noexcept;

    /// Counts changes of the set-up: not of what is ridden. Wait-free.
    std::uint32_t setupChanges() const noexcept { return setupCount.seen(); }

    /// The format's parameter was moved by the host: takes over what the format brings with it. Main or service thread.
    void followFormat() noexcept;

private:
    handoff::Cell<std::uint32_t> setupCount, otherCount;
    std::vector<SettingParameter*> cutParameters, liveParameters;
    juce::AudioParameterChoice* cue;
    handoff::Cell<int> knownFormat;
};

/// A cue's name, as the host shows it.
juce::String name(cut::Cue cue);

} // namespace headland::plugin
