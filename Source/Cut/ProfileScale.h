// SPDX-License-Identifier: GPL-3.0-or-later
// What a profile has to do with the settings of another cut.
#pragma once

#include "Cut/CutSettings.h"
#include "Plan/Profile.h"

#include <optional>

namespace headland::cut {

/// What a profile made with these settings is made with.
plan::ProfileTerms profileTerms(const CutSettings& settings);

/// Excursions with these settings over those of a profile made with others; nothing where they differ by more than a factor,
/// because the high-pass is another.
std::optional<double> profileScale(const plan::ProfileTerms& made, const CutSettings& settings);

} // namespace headland::cut
