// SPDX-License-Identifier: GPL-3.0-or-later
// What spoils a side that is to be clean, judged from the summary of its cut: too little disc, land, width or too great a
// slope, or a lifted stylus. The flags decide, so that this is never at odds with the cut log; tight curvature is no
// limit here. Plain functions; any thread but the audio thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"

#include <string_view>
#include <vector>

namespace headland::console {

/// What a side can be spoilt by.
enum class Limit {
    disc, ///< the program goes beyond the innermost allowed radius
    land, ///< less than the set land by more than 0.5 µm, or below zero: overcut, a demand that came too late
    lift,  ///< no groove
    depth, ///< deeper with the program than the lacquer can be trusted to be
    width, ///< narrower than the set width by more than 0.5 µm
    slope, ///< above tan(back angle)
};

/// The limit's name, as in tables and JSON: "disc", "land" …
std::string_view name(Limit limit) noexcept;

/// Unit of the limit's figure: "mm", "µm", or "" of the slope.
std::string_view unitOf(Limit limit) noexcept;

/// One limit that was passed, at its worst place.
struct Fault {
    Limit limit;
    double value;       ///< radius left over in mm (negative), land or width in µm, slope
    double allowed;     ///< the least, or for slope the greatest, that would have been clean; same unit
    double time_s;      ///< program time; of the disc, when the innermost radius was reached
    double diameter_mm; ///< groove diameter there
};

/// Every limit that was passed, in order of program time; empty when the side is clean.
std::vector<Fault> faultsOf(const cut::CutSummary& summary, const cut::CutSettings& settings);

} // namespace headland::console
