// SPDX-License-Identifier: GPL-3.0-or-later
// How the machine really is, where it is not as the settings say: for asking what a set-up survives. The planner is told
// nothing of it; the simulated lathe, the delay and the groove check go by it. Plain data.
#pragma once

namespace headland::cut {

struct LatheTruth {
    double slewFactor = 1;     ///< of carriage and depth drive, against the slew told
    double lagFactor = 1;      ///< of carriage and depth drive, against the lag told
    double speedFactor = 1;    ///< of the platter, against the speed told
    double previewError_s = 0; ///< how much later than told the program reaches the stylus
};

} // namespace headland::cut
