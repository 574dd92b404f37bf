// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/PatchPlan.h"

#include <cmath>

namespace headland::cut {

namespace {

constexpr double um_per_mm = 1000;

} // namespace

PatchPlan::PatchPlan(const GroovePatch& p) noexcept : patch(p), reference_mm(findReference_mm()) {}

/// The place first, then outward from it in angle; at one angle the turn of the place, then the others in order.
double PatchPlan::findReference_mm() const noexcept {
    const auto radius_mm = [this](std::size_t turn, std::size_t point) {
        return patch.startRadius_mm + bottomFromStart_um(turn, point) / um_per_mm;
    };
    for (std::size_t distance = 0; distance <= patch.points / 2; ++distance)
        for (const auto point : {placePoint() + distance, placePoint() - distance}) {
            if (const auto turn = placeTurn(); turn && std::isfinite(radius_mm(*turn, point)))
                return radius_mm(*turn, point);
            for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
                if (std::isfinite(radius_mm(turn, point)))
                    return radius_mm(turn, point);
        }
    return patch.startRadius_mm;
}

std::optional<std::size_t> PatchPlan::placeTurn() const noexcept {
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
        if (patch.turns[turn].turn == 0)
            return turn;
    return {};
}

EdgePoint PatchPlan::edge(std::size_t turn, std::size_t point) const noexcept {
    if (turn >= patch.turns.size() || point >= patch.turns[turn].edges.size())
        return noEdge;
    return patch.turns[turn].edges[point];
}

/// A patch with a turn left out has no land there.
bool PatchPlan::hasTurnBefore(std::size_t turn) const noexcept {
    return turn > 0 && turn < patch.turns.size() && patch.turns[turn - 1].turn == patch.turns[turn].turn - 1;
}

double PatchPlan::bottomFromStart_um(std::size_t turn, std::size_t point) const noexcept {
    const auto e = edge(turn, point);
    return (static_cast<double>(e.outer_um) + static_cast<double>(e.inner_um)) / 2;
}

PlanPoint PatchPlan::at(std::size_t point, double fromStart_um) const noexcept {
    const auto radius_um = patch.startRadius_mm * um_per_mm + fromStart_um;
    const auto angle_rad = patch.angle_rad(point);
    // r cos θ − r_ref with the two great lengths never subtracted: 2 r sin²(θ/2) is the sag of the arc.
    const auto half = std::sin(angle_rad / 2);
    const auto above_um = (patch.startRadius_mm - reference_mm) * um_per_mm + fromStart_um;
    return {radius_um * std::sin(angle_rad), above_um - 2 * radius_um * half * half};
}

PlanPoint PatchPlan::outerEdge(std::size_t turn, std::size_t point) const noexcept {
    return at(point, static_cast<double>(edge(turn, point).outer_um));
}

PlanPoint PatchPlan::innerEdge(std::size_t turn, std::size_t point) const noexcept {
    return at(point, static_cast<double>(edge(turn, point).inner_um));
}

PlanPoint PatchPlan::bottom(std::size_t turn, std::size_t point) const noexcept {
    return at(point, bottomFromStart_um(turn, point));
}

double PatchPlan::width_um(std::size_t turn, std::size_t point) const noexcept {
    const auto e = edge(turn, point);
    return static_cast<double>(e.outer_um) - static_cast<double>(e.inner_um);
}

double PatchPlan::depth_um(std::size_t turn, std::size_t point) const noexcept {
    return width_um(turn, point) / 2;
}

double PatchPlan::land_um(std::size_t turn, std::size_t point) const noexcept {
    if (!hasTurnBefore(turn))
        return std::numeric_limits<double>::quiet_NaN();
    return static_cast<double>(edge(turn - 1, point).inner_um)
           - static_cast<double>(edge(turn, point).outer_um);
}

double PatchPlan::spacing_um(std::size_t turn, std::size_t point) const noexcept {
    if (!hasTurnBefore(turn))
        return std::numeric_limits<double>::quiet_NaN();
    return bottomFromStart_um(turn - 1, point) - bottomFromStart_um(turn, point);
}

/// No field holds what is NaN, and so no edge that is not there is measured.
template <typename Measure, typename IsInField>
std::optional<PatchMeasure> PatchPlan::least(Measure measure, IsInField isInField) const noexcept {
    std::optional<PatchMeasure> found;
    for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
        for (std::size_t point = 0; point < patch.points; ++point) {
            const auto value_um = measure(turn, point);
            if ((!found || value_um < found->value_um) && isInField(turn, point))
                found = {value_um, turn, point};
        }
    return found;
}

std::optional<PatchMeasure> PatchPlan::narrowestLand(const PlanField& field) const noexcept {
    return least([this](std::size_t turn, std::size_t point) { return land_um(turn, point); },
                 [&](std::size_t turn, std::size_t point) {
                     return field.holds(innerEdge(turn - 1, point)) && field.holds(outerEdge(turn, point));
                 });
}

std::optional<PatchMeasure> PatchPlan::narrowestGroove(const PlanField& field) const noexcept {
    return least([this](std::size_t turn, std::size_t point) { return width_um(turn, point); },
                 [&](std::size_t turn, std::size_t point) {
                     return field.holds(innerEdge(turn, point)) && field.holds(outerEdge(turn, point));
                 });
}

} // namespace headland::cut
