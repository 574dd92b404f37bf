// SPDX-License-Identifier: GPL-3.0-or-later
// The cues as buttons: label, key, and when each means something. Constant data; any thread.
#pragma once

#include "Cut/Cue.h"
#include "HandOff/LiveEvents.h"

#include <array>
#include <string_view>

namespace headland::editor {

struct CueKey {
    cut::Cue cue;
    std::string_view label;
    char key; ///< escapeKey: Escape; otherwise a capital letter, pressed with Shift or twice
};

inline constexpr char escapeKey = '\x1b';

/// In the log; as above.
inline constexpr char markKey = 'M', noteKey = 'N';

/// Of the program file; of the views: other units, the next caution and the one before.
inline constexpr char cutKey = 'C', unitKey = 'U', nextKey = '.', previousKey = ',';

/// In the order of a side; lifting last, apart from the others.
inline constexpr std::array<CueKey, cut::cueCount> cueKeys{{{cut::Cue::leadIn, "Lower", 'L'},
                                                            {cut::Cue::program, "Program", 'P'},
                                                            {cut::Cue::band, "Band", 'B'},
                                                            {cut::Cue::leadOut, "Lead-out", 'O'},
                                                            {cut::Cue::finishing, "Finishing groove", 'F'},
                                                            {cut::Cue::lift, "Lift", escapeKey}}};

/// Whether the cue means something now, as docs/processor.md has it. Lifting always does.
constexpr bool meansSomething(cut::Cue cue, const handoff::LiveStatus& status) noexcept {
    using cut::State;
    const auto is = [&](auto... states) { return ((status.state == states) || ...); };
    switch (cue) {
    case cut::Cue::lift:
        return true;
    case cut::Cue::leadIn:
        return !status.lowering && is(State::up, State::leadIn);
    case cut::Cue::program:
        return is(State::leadIn, State::band);
    case cut::Cue::band:
        return is(State::program, State::band);
    case cut::Cue::leadOut:
        return is(State::leadIn, State::program, State::band);
    case cut::Cue::finishing:
        return !is(State::up, State::finishing);
    }
    return false;
}

} // namespace headland::editor
