// SPDX-License-Identifier: GPL-3.0-or-later
// Cues as MIDI notes, on any channel: a note on with a velocity is the cue, its note off means nothing. One octave of
// white keys from C2 on (36 where middle C is 60); documented in docs/processor.md. Any thread.
#pragma once

#include "Cut/Cue.h"

#include <array>
#include <optional>

namespace headland::plugin {

struct MidiCue {
    int note;
    cut::Cue cue;
};

inline constexpr std::array<MidiCue, cut::cueCount> midiCues{{{36, cut::Cue::lift},
                                                              {38, cut::Cue::leadIn},
                                                              {40, cut::Cue::program},
                                                              {41, cut::Cue::band},
                                                              {43, cut::Cue::leadOut},
                                                              {45, cut::Cue::finishing}}};

/// A mark in the log: B2.
inline constexpr int markNote = 47;

/// What a note on asks for.
constexpr std::optional<cut::Cue> cueOf(int note) noexcept {
    for (const auto& midi : midiCues)
        if (midi.note == note)
            return midi.cue;
    return std::nullopt;
}

} // namespace headland::plugin
