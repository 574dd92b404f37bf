// SPDX-License-Identifier: GPL-3.0-or-later
// What `headland tune` says: a line for every delay tried, then which of them is worth having, and why. UTF-8. Not for
// the audio thread.
#pragma once

#include "Console/TuneReport.h"

#include <string>

namespace headland::console {

/// "1.35 s (0.75 turns)": a delay for a person.
std::string delayText(double delay_s, double turns);

/// Why this one, or what is the limit: a sentence without its full stop.
std::string reasonText(const TuneReport& report);

/// What longer ones would save or take, in a sentence; "" when there is none.
std::string longerOnes(const TuneReport& report);

/// Places after the point that show every delay tried as given: 2 or 3.
int delayDecimals(const TuneReport& report);

/// "Recommended", or "None will do" when the side can be cut at no delay.
std::string headline(const TuneReport& report);

/// The recommended delay with its tape path, and the reason, in a sentence.
std::string recommendation(const TuneReport& report);

/// How much disc for a steady pitch, and why; "" when it was not tried.
std::string steadinessText(const TuneReport& report);

/// "the platter held to 0.02 % (0.1 % now) would save 0.31 mm of radius" and so on, a sentence; "" when nothing was tried.
std::string betterKnownText(const TuneReport& report);

/// Everything, ending with the caution of every command.
std::string tuneText(const TuneReport& report);

} // namespace headland::console
