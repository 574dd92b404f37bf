// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/Limits.h"

#include "Cut/SlopeLimit.h"

#include <algorithm>
#include <cmath>

namespace headland::console {

namespace {

bool isFlagged(const cut::CutSummary& summary, cut::Flag flag) {
    return summary.flaggedSectors[cut::indexOf(flag)] > 0;
}

Fault discFault(const cut::CutSummary& summary, const cut::CutSettings& settings) {
    return {Limit::disc, summary.room_mm(settings), 0, summary.fitLength_s, 2 * settings.end_radius_mm};
}

/// The extreme is that of the program; a flag raised beyond it, in the lead-out, has its place in the passages only.
Fault faultAt(Limit limit, double allowed, const cut::Extreme& extreme) {
    return {limit, extreme.value, allowed, extreme.time_s, 2 * extreme.radius_mm};
}

cut::Extreme placeOf(const cut::Extreme& inProgram, bool isThere, const cut::CutSummary& summary,
                     cut::Flag flag) {
    return inProgram.valid && isThere ? inProgram : summary.worstOf(flag);
}

Fault landFault(const cut::CutSummary& summary, const cut::CutSettings& settings) {
    const auto flag = isFlagged(summary, cut::Flag::overcut) ? cut::Flag::overcut : cut::Flag::thinLand;
    const auto& least = summary.landLeast;
    return faultAt(Limit::land, settings.land_min_um,
                   placeOf(least, least.value < settings.land_min_um, summary, flag));
}

Fault depthFault(const cut::CutSummary& summary, const cut::CutSettings& settings) {
    const auto& greatest = summary.depthGreatestWithProgram;
    const auto allowed_um = settings.depth_peak_max_um;
    return faultAt(Limit::depth, allowed_um,
                   placeOf(greatest, greatest.value > allowed_um, summary, cut::Flag::tooDeep));
}

Fault widthFault(Limit limit, double allowed_um, cut::Flag flag, const cut::CutSummary& summary) {
    const auto& least = summary.widthLeast;
    return faultAt(limit, allowed_um, placeOf(least, least.value <= allowed_um, summary, flag));
}

} // namespace

std::string_view name(Limit limit) noexcept {
    switch (limit) {
    case Limit::disc:
        return "disc";
    case Limit::land:
        return "land";
    case Limit::lift:
        return "lift";
    case Limit::depth:
        return "depth";
    case Limit::width:
        return "width";
    case Limit::slope:
        return "slope";
    }
    return "";
}

std::string_view unitOf(Limit limit) noexcept {
    return limit == Limit::disc ? "mm" : limit == Limit::slope ? "" : "µm";
}

std::vector<Fault> faultsOf(const cut::CutSummary& summary, const cut::CutSettings& settings) {
    std::vector<Fault> faults;
    if (!summary.fits)
        faults.push_back(discFault(summary, settings));
    if (isFlagged(summary, cut::Flag::thinLand) || isFlagged(summary, cut::Flag::overcut))
        faults.push_back(landFault(summary, settings));
    if (isFlagged(summary, cut::Flag::lifted))
        faults.push_back(widthFault(Limit::lift, 0, cut::Flag::lifted, summary));
    else if (isFlagged(summary, cut::Flag::narrow))
        faults.push_back(widthFault(Limit::width, settings.width_min_um, cut::Flag::narrow, summary));
    if (isFlagged(summary, cut::Flag::tooDeep))
        faults.push_back(depthFault(summary, settings));
    if (isFlagged(summary, cut::Flag::steep))
        faults.push_back(faultAt(Limit::slope, cut::slopeLimit(settings), summary.slopeGreatest));
    std::stable_sort(faults.begin(), faults.end(),
                     [](const Fault& a, const Fault& b) { return a.time_s < b.time_s; });
    return faults;
}

} // namespace headland::console
