// SPDX-License-Identifier: GPL-3.0-or-later
// The figures of a frame as the log keeps them: name, places after the point, where in the frame they live. CSV and the
// book's rows are made from this one table, so that both hold the same figures to the same place. Constant data; any thread.
#pragma once

#include "Cut/CutFrame.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <string>
#include <string_view>

namespace headland::log {

/// One figure; what is not finite in the frame does not exist in the log.
struct FrameColumn {
    std::string_view name;
    int decimals;
    double absent; ///< what the frame holds where there is no such figure
    double& (*of)(cut::CutFrame&);

    double get(const cut::CutFrame& frame) const noexcept { return of(const_cast<cut::CutFrame&>(frame)); }
};

namespace columns {

using F = cut::CutFrame&;
inline constexpr double none = std::numeric_limits<double>::quiet_NaN();
inline constexpr double straight = std::numeric_limits<double>::infinity(); ///< radius of curvature
inline constexpr double silent = -std::numeric_limits<double>::infinity();  ///< level

} // namespace columns

/// The CSV's columns in their order, without `state` and `flags`; then what only the book keeps, so that a summary can
/// be made from it and a cut planned again.
inline constexpr std::array frameColumns{
    FrameColumn{"time_s", 6, columns::none, [](columns::F f) -> double& { return f.time_s; }},
    FrameColumn{"turn", 6, columns::none, [](columns::F f) -> double& { return f.turn; }},
    FrameColumn{"radius_mm", 6, columns::none, [](columns::F f) -> double& { return f.radius_mm; }},
    FrameColumn{"pitch_um", 4, columns::none, [](columns::F f) -> double& { return f.pitch_um; }},
    FrameColumn{"pitch_command_um", 4, columns::none,
                [](columns::F f) -> double& { return f.pitchCommand_um; }},
    FrameColumn{"depth_um", 4, columns::none, [](columns::F f) -> double& { return f.depth_um; }},
    FrameColumn{"depth_command_um", 4, columns::none,
                [](columns::F f) -> double& { return f.depthCommand_um; }},
    FrameColumn{"land_min_um", 4, columns::none, [](columns::F f) -> double& { return f.landMin_um; }},
    FrameColumn{"width_min_um", 4, columns::none, [](columns::F f) -> double& { return f.widthMin_um; }},
    FrameColumn{"lateral_peak_cm_s", 4, columns::none,
                [](columns::F f) -> double& { return f.lateralPeak_cm_s; }},
    FrameColumn{"vertical_peak_cm_s", 4, columns::none,
                [](columns::F f) -> double& { return f.verticalPeak_cm_s; }},
    FrameColumn{"slope_peak", 5, columns::none, [](columns::F f) -> double& { return f.slopePeak; }},
    FrameColumn{"curvature_min_um", 4, columns::straight,
                [](columns::F f) -> double& { return f.curvatureMin_um; }},
    FrameColumn{"demand_um", 4, columns::none, [](columns::F f) -> double& { return f.demand_um; }},
    FrameColumn{"shortfall_um", 4, columns::none, [](columns::F f) -> double& { return f.shortfall_um; }},
    FrameColumn{"peak_dbfs", 3, columns::silent, [](columns::F f) -> double& { return f.peak_dbfs; }},
    FrameColumn{"left_mm", 4, columns::none, [](columns::F f) -> double& { return f.estimate.left_mm; }},
    FrameColumn{"left_min", 4, columns::none, [](columns::F f) -> double& { return f.estimate.left_min; }},
    FrameColumn{"end_diameter_mm", 3, columns::none,
                [](columns::F f) -> double& { return f.estimate.endDiameter_mm; }},
    FrameColumn{"end_diameter_uncertainty_mm", 3, columns::none,
                [](columns::F f) -> double& { return f.estimate.endDiameterUncertainty_mm; }},
    FrameColumn{"used_mm", 4, columns::none, [](columns::F f) -> double& { return f.estimate.used_mm; }},
    FrameColumn{"used_cm2", 3, columns::none, [](columns::F f) -> double& { return f.estimate.used_cm2; }},
    FrameColumn{"left_cm2", 3, columns::none, [](columns::F f) -> double& { return f.estimate.left_cm2; }},
    FrameColumn{"outer_swing_um", 4, columns::none, [](columns::F f) -> double& { return f.outerSwing_um; }},
    FrameColumn{"inner_swing_um", 4, columns::none, [](columns::F f) -> double& { return f.innerSwing_um; }},
    FrameColumn{"lift_um", 4, columns::none, [](columns::F f) -> double& { return f.lift_um; }},
    FrameColumn{"depth_peak_um", 4, columns::none, [](columns::F f) -> double& { return f.depthPeak_um; }},
};

/// Where one of them stands.
consteval std::size_t columnNamed(std::string_view name) noexcept {
    std::size_t column = 0;
    while (frameColumns[column].name != name)
        ++column;
    return column;
}

/// How many of them stand in the CSV before `state` and `flags`, and how many in it at all.
inline constexpr std::size_t csvColumnsBefore = 13;
inline constexpr std::size_t csvColumns = 20;

/// How many of them a book of this version has.
constexpr std::size_t bookColumns(std::int64_t version) noexcept {
    constexpr std::array<std::size_t, 2> older{23, 26}; // of versions 1 and 2
    const auto place = static_cast<std::size_t>(std::max<std::int64_t>(version, 1)) - 1;
    return place < older.size() ? older[place] : frameColumns.size();
}

/// The book's name of a column: with the decimals, as it holds units of the last.
inline std::string storedName(const FrameColumn& column) {
    return std::string(column.name) + "_e" + std::to_string(column.decimals);
}

/// The book's names of the first `count`, each after a comma.
inline std::string storedNames(std::size_t count) {
    std::string names;
    for (const auto& column : std::span(frameColumns).first(count))
        names += ", " + storedName(column);
    return names;
}

/// 10 to the power of a column's decimals, 0 to 6.
inline constexpr std::array<double, 7> powersOfTen{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6};
constexpr double powerOfTen(int decimals) noexcept {
    return powersOfTen[static_cast<std::size_t>(decimals)];
}

/// Whether `value` with that many decimals is a whole number of its last place that comes back to the same number when it is
/// divided and multiplied again: two roundings of a part in 2^53 each must stay below half a place.
inline bool hasPlaces(double value, int decimals) noexcept {
    constexpr auto exactUpTo = 1e15;
    return std::abs(value) * powerOfTen(decimals) <= exactUpTo;
}

/// `value`, finite and with places, in units of its last decimal, rounded.
inline std::int64_t places(double value, int decimals) noexcept {
    return std::llround(value * powerOfTen(decimals));
}

} // namespace headland::log
