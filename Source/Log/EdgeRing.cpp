// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/EdgeRing.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace headland::log {

std::int64_t step_samples(const cut::GroovePatch& patch, double turn_samples) noexcept {
    return std::llround(patch.step_rad * turn_samples / (2 * std::numbers::pi));
}

EdgeRing::EdgeRing(double samples, double turns)
    : turn(samples), ring(static_cast<std::size_t>(std::ceil(turns * samples))) {}

void EdgeRing::add(const cut::EdgeRun& run) {
    if (run.firstSample != end)
        first = run.firstSample; // some are missing, or it is the first
    loweredRadius = run.loweredRadius_mm;
    end = run.firstSample;
    for (const auto& point : run.points)
        ring[static_cast<std::size_t>(end++) % ring.size()] = point;
    first = std::max(first, end - static_cast<std::int64_t>(ring.size()));
}

cut::EdgePoint EdgeRing::at(std::int64_t sample) const noexcept {
    return has(sample) ? ring[static_cast<std::size_t>(sample) % ring.size()] : cut::noEdge;
}

cut::EdgePoint EdgeRing::between(double sample) const noexcept {
    const auto whole = std::floor(sample);
    const auto before = at(static_cast<std::int64_t>(whole));
    const auto share = static_cast<float>(sample - whole);
    if (share == 0)
        return before;
    const auto after = at(static_cast<std::int64_t>(whole) + 1);
    return {before.outer_um + share * (after.outer_um - before.outer_um),
            before.inner_um + share * (after.inner_um - before.inner_um)};
}

cut::GroovePatch EdgeRing::emptyPatch(double radius_mm, double halfLength_mm, double time_s) const {
    const auto [step, half] = cut::spreadOf(radius_mm, turn, halfLength_mm);
    cut::GroovePatch patch;
    patch.time_s = time_s;
    patch.startRadius_mm = loweredRadius;
    patch.step_rad = 2 * std::numbers::pi * static_cast<double>(step) / turn;
    patch.points = static_cast<std::size_t>(2 * half + 1);
    return patch;
}

std::optional<cut::PatchTurn> EdgeRing::turnOf(const cut::GroovePatch& patch, std::int64_t middle,
                                               int turnNumber) const {
    const auto step = step_samples(patch, turn);
    const auto half = static_cast<std::int64_t>(patch.points / 2) * step;
    const auto place = static_cast<double>(middle) + turnNumber * turn;
    cut::PatchTurn taken{turnNumber, {}};
    taken.edges.reserve(patch.points);
    for (auto offset = -half; offset <= half; offset += step)
        taken.edges.push_back(between(place + static_cast<double>(offset)));
    const auto isThere = [](const auto& point) { return !std::isnan(point.outer_um); };
    if (std::none_of(taken.edges.begin(), taken.edges.end(), isThere))
        return std::nullopt;
    return taken;
}

} // namespace headland::log
