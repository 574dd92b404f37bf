// SPDX-License-Identifier: GPL-3.0-or-later
// What a cutting engineer wants to read after a cut: one figure a line, with its unit and place, the flagged passages
// worst first, the verdict last. UTF-8. Not for the audio thread.
#pragma once

#include "Console/CutReport.h"
#include "Files/Caution.h"

#include <string>
#include <string_view>

namespace headland::console {

/// Passages listed in the text; the others are counted.
inline constexpr std::size_t listedPassagesMax = 20;
inline constexpr std::size_t textColumns = 100; ///< of a line

using files::caution;

/// The summary, ending with verdict and caution.
std::string summaryText(const CutReport& report);

/// "Disc used        12.83 mm of radius": one line of a report, broken and indented where it is too long.
std::string labelled(std::string_view label, const std::string& text);

/// `text` broken at spaces into lines of at most `columns`, the second and later ones indented by `indent`.
std::string wrapped(std::string_view text, std::size_t columns, std::size_t indent = 0);

} // namespace headland::console
