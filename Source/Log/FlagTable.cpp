// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/FlagTable.h"

#include "Text/Figures.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace headland::log {

using text::fixed;

namespace {

using cut::Flag;

// Okabe and Ito, "Color Universal Design" (2008), figures from memory.
constexpr std::string_view black = "#000000";
constexpr std::string_view orange = "#e69f00";
constexpr std::string_view skyBlue = "#56b4e9";
constexpr std::string_view green = "#009e73";
constexpr std::string_view yellow = "#f0e442";
constexpr std::string_view blue = "#0072b2";
constexpr std::string_view vermilion = "#d55e00";
constexpr std::string_view purple = "#cc79a7";

constexpr std::array<FlagRow, cut::flagCount> table{{
    {Flag::overcut, "land", "µm", 1, true, MarkShape::cross, vermilion},
    {Flag::lifted, "width", "µm", 1, true, MarkShape::triangleUp, purple},
    {Flag::tooDeep, "depth", "µm", 1, false, MarkShape::hexagon, purple},
    {Flag::discEnd, "left", "mm", 2, true, MarkShape::hourglass, black},
    {Flag::pastEnd, "left", "mm", 2, true, MarkShape::triangleRight, vermilion},
    {Flag::limit, "demand", "µm", 0, false, MarkShape::bar, black},
    {Flag::previewShort, "shortfall", "µm", 1, false, MarkShape::triangleLeft, blue},
    {Flag::thinLand, "land", "µm", 1, true, MarkShape::diamond, orange},
    {Flag::narrow, "width", "µm", 1, true, MarkShape::triangleDown, skyBlue},
    {Flag::tight, "radius", "µm", 1, true, MarkShape::circle, green},
    {Flag::steep, "slope", "", 2, false, MarkShape::square, yellow},
    {Flag::badSample, "peak", "dBFS", 1, false, MarkShape::plus, black},
}};

} // namespace

std::span<const FlagRow> flagTable() noexcept {
    return table;
}

const FlagRow& flagRow(Flag flag) noexcept {
    const auto* found =
        std::find_if(table.begin(), table.end(), [flag](const FlagRow& row) { return row.flag == flag; });
    return found == table.end() ? table.back() : *found;
}

std::string flagCounts(const cut::CutSummary& summary) {
    std::string text;
    for (const auto& row : table)
        if (const auto passages = summary.flaggedPassages[cut::indexOf(row.flag)]; passages > 0)
            text += (text.empty() ? "" : ", ") + std::to_string(passages) + " "
                    + std::string(cut::name(row.flag));
    return text;
}

std::string worstText(const cut::Passage& passage) {
    const auto& row = flagRow(passage.flag);
    if (!passage.worst.valid || !std::isfinite(passage.worst.value))
        return "";
    const auto unit = row.unit.empty() ? "" : " " + std::string(row.unit);
    return std::string(row.figure) + " " + fixed(passage.worst.value, row.decimals) + unit;
}

} // namespace headland::log
