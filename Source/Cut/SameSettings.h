// SPDX-License-Identifier: GPL-3.0-or-later
// Whether two set-ups would cut the same. Any thread.
#pragma once

#include "Cut/SettingsTable.h"

#include <algorithm>

namespace headland::cut {

/// Every setting of the table is the same, to the last bit.
inline bool areSame(const CutSettings& a, const CutSettings& b) {
    const auto table = settingsTable();
    return std::all_of(table.begin(), table.end(),
                       [&](const auto& setting) { return getNumber(a, setting) == getNumber(b, setting); });
}

} // namespace headland::cut
