// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a cut's JSON that every driver of the engine writes alike: verdict, figures of the summary, flagged
// passages (the settings are in Log/JsonObject.h). Figures carry their unit in the name; what does not exist is null.
// Not for the audio thread.
#pragma once

#include "Cut/CutSummary.h"
#include "Log/JsonObject.h"

namespace headland::log {

/// Adds whether the side can be cut, and the sentence that says so.
void addVerdict(JsonObject& object, const cut::CutSummary& summary);

/// Adds the summary's figures. `left_min`: playing time left at the going rate by the last estimate, minutes; NaN when
/// there is none.
void addFigures(JsonObject& object, const cut::CutSummary& summary, double left_min);

/// The flagged passages, in the summary's order.
files::Json passageArray(const cut::CutSummary& summary);

} // namespace headland::log
