// SPDX-License-Identifier: GPL-3.0-or-later
// The plan of a patch of turns, and what is measured on it: every view of a patch (the console's picture, the window)
// draws from these figures. Edges are known along the radius; the plan lays them out as they lie on the disc, so that
// the turns curve. Lengths in µm; pure functions of the patch, which must outlive the plan. Any thread.
#pragma once

#include "Cut/GroovePatch.h"

#include <cstddef>
#include <limits>
#include <optional>

namespace headland::cut {

/// A point of the plan. NaN where nothing was cut.
struct PlanPoint {
    double along_um;   ///< across the radius through the place, the way of the cut positive
    double outward_um; ///< along that radius from the plan's reference radius, outward positive
};

/// A rectangle of the plan, borders included; without figures, all of it.
struct PlanField {
    double leastAlong_um = -std::numeric_limits<double>::infinity();
    double greatestAlong_um = std::numeric_limits<double>::infinity();
    double leastOutward_um = -std::numeric_limits<double>::infinity();
    double greatestOutward_um = std::numeric_limits<double>::infinity();

    /// False for a point that is NaN.
    bool holds(const PlanPoint& point) const noexcept {
        return point.along_um >= leastAlong_um && point.along_um <= greatestAlong_um
               && point.outward_um >= leastOutward_um && point.outward_um <= greatestOutward_um;
    }
};

/// Where something was measured. `turn` is an index into the patch's turns, `point` into each turn's edges.
struct PatchMeasure {
    double value_um;
    std::size_t turn;
    std::size_t point;
};

class PatchPlan {
public:
    /// The patch is plain data of others: an edge that is not there at all counts as NaN.
    explicit PatchPlan(const GroovePatch& patch) noexcept;

    /// Radius of the plan's origin, mm: that of the groove's bottom at the place; where the place was not cut, that of the
    /// cut point nearest in angle; where nothing was cut, the start radius.
    double referenceRadius_mm() const noexcept { return reference_mm; }

    /// Index of the turn the place is in, if the patch has it.
    std::optional<std::size_t> placeTurn() const noexcept;
    /// Index of the place's point.
    std::size_t placePoint() const noexcept { return patch.points / 2; }

    /// Where something at this point's angle lies, `fromStart_um` along the radius as edges are.
    PlanPoint at(std::size_t point, double fromStart_um) const noexcept;
    PlanPoint outerEdge(std::size_t turn, std::size_t point) const noexcept;
    PlanPoint innerEdge(std::size_t turn, std::size_t point) const noexcept;
    /// The groove's bottom: in a 90° V half way between the edges.
    PlanPoint bottom(std::size_t turn, std::size_t point) const noexcept;

    /// All of these along the radius, as the engine measures them; NaN where an edge of theirs is.

    /// Width of the groove at the surface; at or below zero the cut is lifted.
    double width_um(std::size_t turn, std::size_t point) const noexcept;
    /// Momentary depth of the bottom: half the width of a 90° V.
    double depth_um(std::size_t turn, std::size_t point) const noexcept;
    /// Land between this turn and the one before, at the same angle; negative: overcut. NaN when the patch lacks the
    /// turn before.
    double land_um(std::size_t turn, std::size_t point) const noexcept;
    /// From the bottom of the turn before to this turn's.
    double spacing_um(std::size_t turn, std::size_t point) const noexcept;

    /// The narrowest land of those whose two edges lie in the field; its turn is the inner one. None: no land there.
    std::optional<PatchMeasure> narrowestLand(const PlanField& field = {}) const noexcept;
    /// The narrowest groove of those whose two edges lie in the field.
    std::optional<PatchMeasure> narrowestGroove(const PlanField& field = {}) const noexcept;

private:
    EdgePoint edge(std::size_t turn, std::size_t point) const noexcept;
    bool hasTurnBefore(std::size_t turn) const noexcept;
    double bottomFromStart_um(std::size_t turn, std::size_t point) const noexcept;
    double findReference_mm() const noexcept;
    template <typename Measure, typename IsInField>
    std::optional<PatchMeasure> least(Measure measure, IsInField isInField) const noexcept;

    const GroovePatch& patch;
    double reference_mm;
};

} // namespace headland::cut
