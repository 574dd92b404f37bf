// SPDX-License-Identifier: GPL-3.0-or-later
// Why a cut is scrap, in words, the worst first. UTF-8. Any thread but the audio thread (text is allocated).
#pragma once

#include "Cut/CutSummary.h"

#include <string>
#include <string_view>
#include <vector>

namespace headland::cut {

/// "it overcuts": what a flag that spoils does to a side; of another flag: nothing.
std::string_view spoilingText(Flag flag) noexcept;

/// One reason.
struct Spoiling {
    std::string what; ///< "it overcuts"
    std::string by;   ///< "by 27.6 µm"
    std::string at;   ///< "at 1:36.0"; empty: of the side as a whole
    std::string more; ///< what stands behind all that

    /// "it overcuts at 1:36.0"
    std::string brief() const { return what + (at.empty() ? at : " " + at); }
    /// "it overcuts, by 27.6 µm at 1:36.0"
    std::string whole() const { return what + ", " + by + (at.empty() ? at : " " + at) + more; }
};

/// Nothing: the side can be cut.
std::vector<Spoiling> spoilings(const CutSummary& summary);
/// All of them, whole; empty: the side can be cut.
std::string scrap(const CutSummary& summary);

} // namespace headland::cut
