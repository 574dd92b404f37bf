// SPDX-License-Identifier: GPL-3.0-or-later
// The processor's state as the host keeps it: JSON, {"headland_state": 2, "settings": {key: number}, "osc_host": text,
// "book": text, "job": text, "side": text}, every setting of both tables under its key, as a number that reads back to the
// same bits (in version 1 as text; the format by its index). All or nothing: a state that is damaged, newer, or larger than a
// megabyte changes nothing. Main thread.
#pragma once

#include "Plugin/Journal.h"
#include "Plugin/LiveSettings.h"

#include <string>
#include <string_view>

namespace headland::plugin {

inline constexpr int stateVersion = 2; ///< that this program writes, and the newest it reads

/// What is kept. A key that is missing in a state has its default.
struct State {
    cut::CutSettings cut;
    LiveSettings live;
    std::string oscHost = "127.0.0.1"; ///< where OSC goes, if it is on
    BookChoice book;                   ///< where cuts are logged
};

/// UTF-8.
std::string stateText(const State& state);

/// Reads a state; nothing, and one sentence in `problem`, when it cannot be used.
bool readState(std::string_view text, State& state, std::string& problem);

} // namespace headland::plugin
