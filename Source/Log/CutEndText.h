// SPDX-License-Identifier: GPL-3.0-or-later
// How a cut ended, for people and for the log. Any thread but the audio thread.
#pragma once

#include "HandOff/LiveEvents.h"

#include <string>

namespace headland::log {

/// "lifted", "ended as a fault: the sample rate changed with the stylus down".
std::string describe(handoff::CutEnd reason);

/// Whether nobody wanted the cut to end there.
bool isFault(handoff::CutEnd reason) noexcept;

} // namespace headland::log
