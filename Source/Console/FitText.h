// SPDX-License-Identifier: GPL-3.0-or-later
// What `headland fit` says: a row for every value that was cut, the answer in a sentence, and a sentence on what limits.
// UTF-8. Not for the audio thread.
#pragma once

#include "Console/FitReport.h"

#include <string>

namespace headland::console {

/// The answer, or why there is none and what to do, in one sentence.
std::string answerSentence(const FitReport& report);

/// What gives way a tenth above the answer, and where, or that nothing does; "" when there is no answer.
std::string limitSentence(const FitReport& report);

/// What a person should know of the answer although it limits nothing, a sentence each; "" when there is nothing.
std::string cautionSentences(const FitReport& report);

/// The quantities that are not varied, as set: "land 12 µm, basic depth 25 µm".
std::string heldText(const FitReport& report);

/// Everything, ending with the caution of every command.
std::string fitText(const FitReport& report);

} // namespace headland::console
