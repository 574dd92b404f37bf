// SPDX-License-Identifier: GPL-3.0-or-later
// What a rehearsal has left of a program. Plain data; any thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Disc/RehearsedSide.h"
#include "Plan/Profile.h"

#include <memory>

namespace headland::cut {

struct RehearsedProgram {
    std::shared_ptr<const plan::Profile> profile;    ///< as it was heard; null: it was not, or not to its end
    std::shared_ptr<const disc::RehearsedSide> side; ///< as it was then cut out of sight; null: it was not
    CutSettings settings;                            ///< with which it was
};

} // namespace headland::cut
