// SPDX-License-Identifier: GPL-3.0-or-later
// One program cut again at several settings, side by side: a job a trial in a pool of as many threads as the machine has
// cores. Each trial reads the file for itself and has an engine of its own, so that its result is the same bits as if
// it ran alone. The calling thread waits and draws; wall-clock time is used for drawing only.
#pragma once

#include "Console/Progress.h"
#include "Console/StopSignal.h"
#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"
#include "Plan/Profile.h"

#include <memory>
#include <string>
#include <vector>

namespace headland::console {

/// Cuts the program at `path` with each of `trials`, which must be valid for its rate; the summaries in the order
/// asked, one bar over all of them; each with what a rehearsal has left, if there was one. Once all have ended: throws Stopped
/// if the user has stopped it, otherwise what the first trial that failed has thrown (InputError when the file cannot be read).
std::vector<cut::CutSummary> cutTrials(const std::string& path, const std::vector<cut::CutSettings>& trials,
                                       Progress& progress, const StopSignal& stop,
                                       std::shared_ptr<const plan::Profile> profile = {});

} // namespace headland::console
