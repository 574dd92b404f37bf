// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/StripModel.h"

#include <algorithm>
#include <cmath>

namespace headland::editor {

namespace {

constexpr double um_per_mm = 1000;

/// Puts a sector, or a step of sectors, into a column: the greatest of what it demands, the last of what it does.
void join(StripColumn& column, const StripColumn& more) {
    const auto isFirst = !column.isThere();
    column.outerSwing_um = std::fmax(column.outerSwing_um, more.outerSwing_um);
    column.innerSwing_um = std::fmax(column.innerSwing_um, more.innerSwing_um);
    if (std::isnan(column.demand_um) || more.demand_um > column.demand_um) {
        column.demand_um = more.demand_um;
        column.made_um = more.made_um;
    }
    column.short_um = std::fmax(column.short_um, more.short_um);
    column.pitch_um = more.pitch_um;
    column.command_um = more.command_um;
    column.depth_um = more.depth_um;
    column.flags = static_cast<std::uint16_t>(column.flags | more.flags);
    column.isAhead = isFirst ? more.isAhead : column.isAhead && more.isAhead;
}

float finite(double value) {
    return std::isfinite(value) ? static_cast<float>(value) : NAN;
}

StripColumn columnOf(const SideHistory& side, std::size_t index) {
    const auto frame = side.frames()[index];
    const auto before = side.turnBefore(index);
    StripColumn column;
    column.outerSwing_um = finite(frame.outerSwing_um);
    column.innerSwing_um = finite(frame.innerSwing_um);
    if (!column.isThere()) // a book from before the swings were kept
        column.outerSwing_um = column.innerSwing_um = 0;
    column.demand_um = finite(frame.demand_um);
    column.made_um = !before ? NAN : finite((before->radius_mm - frame.radius_mm) * um_per_mm);
    column.short_um = column.demand_um - column.made_um;
    column.pitch_um = finite(frame.pitch_um);
    column.command_um = finite(frame.pitchCommand_um);
    column.depth_um = finite(frame.depth_um);
    column.flags = frame.flags;
    return column;
}

StripColumn columnOf(const plan::ForesightStep& step, double basicDepth_um) {
    StripColumn column;
    column.outerSwing_um = step.outerSwing_um;
    column.innerSwing_um = step.innerSwing_um;
    column.demand_um = finite(step.spacing_um);
    column.made_um = step.madeSpacing_um;
    column.short_um = column.demand_um - column.made_um;
    column.pitch_um = step.pitch_um;
    column.depth_um = std::isnan(step.depth_um) ? static_cast<float>(basicDepth_um) : step.depth_um;
    column.isAhead = true;
    return column;
}

/// Where what is foreseen begins.
double comingFrom_s(const StripSight& sight) {
    return std::isnan(sight.coming.time_s) ? sight.place_s : sight.coming.time_s;
}

} // namespace

std::vector<StripColumn> stripColumns(const StripSight& sight, const StripGrid& grid) {
    std::vector<StripColumn> columns(static_cast<std::size_t>(grid.count));
    const auto put = [&](double middle_s, const StripColumn& column) {
        const auto at = static_cast<std::int64_t>(std::floor(middle_s / grid.column_s)) - grid.first;
        if (at >= 0 && at < grid.count)
            join(columns[static_cast<std::size_t>(at)], column);
    };
    const auto half_s = sight.settings.sector_s() / 2;
    auto cutTo_s = -INFINITY;
    if (sight.side != nullptr && !sight.side->frames().empty()) {
        const auto& frames = sight.side->frames();
        const auto end_s = grid.start_s(grid.count);
        for (auto i = sight.side->frameAt(grid.start_s(0));
             i < frames.size() && frames.time_s(i) - half_s < end_s; ++i)
            put(frames.time_s(i) - half_s, columnOf(*sight.side, i));
        cutTo_s = frames.back().time_s;
    }
    const auto from_s = comingFrom_s(sight);
    auto step = 0;
    for (const auto& coming : sight.coming.steps()) {
        const auto middle_s = from_s + (step++ + 0.5) * sight.coming.step_s;
        if (middle_s > cutTo_s)
            put(middle_s, columnOf(coming, sight.settings.depth_basic_um));
    }
    // A sector may be wider than a column: it reaches over all of its columns.
    const auto longest =
        static_cast<int>(std::ceil(std::max(sight.settings.sector_s(), sight.coming.step_s) / grid.column_s));
    auto since = longest;
    for (std::size_t i = 1; i < columns.size(); ++i) {
        since = columns[i].isThere() ? 0 : since + 1;
        if (since > 0 && since < longest && columns[i - 1].isThere())
            columns[i] = columns[i - 1];
    }
    return columns;
}

std::optional<Coming> whatComes(const StripSight& sight) {
    if (sight.coming.count == 0)
        return std::nullopt;
    const auto isShort = sight.coming.shortfall_um > cut::planTolerance_um;
    Coming all{NAN, 0, isShort ? sight.coming.shortfall_um : 0, NAN, 0, 0};
    const auto until_s = comingFrom_s(sight) - sight.place_s;
    auto step = 0;
    for (const auto& coming : sight.coming.steps()) {
        const auto in_s = until_s + (step++ + 0.5) * sight.coming.step_s;
        if (in_s < 0)
            continue; // told a moment ago, and cut since
        all.heard_s = in_s + sight.coming.step_s / 2;
        if (!std::isfinite(coming.spacing_um))
            continue;
        if (!(coming.spacing_um <= all.demand_um)) {
            all.demand_um = coming.spacing_um;
            all.demandIn_s = in_s;
        }
        const auto spare_um =
            static_cast<double>(coming.madeSpacing_um) - static_cast<double>(coming.spacing_um);
        if (!(spare_um >= all.spare_um)) {
            all.spare_um = spare_um;
            all.spareIn_s = in_s;
        }
    }
    all.spare_um = std::max(0.0, all.spare_um); // the plan is coarse; the floor beneath it keeps every sector
    return all.heard_s > 0 ? std::optional(all) : std::nullopt;
}

} // namespace headland::editor
