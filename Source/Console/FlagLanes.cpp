// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/FlagLanes.h"

#include "Cut/Spoils.h"
#include "Log/FlagTable.h"
#include "Text/Figures.h"

#include <algorithm>

namespace headland::console {

using text::counted;

namespace {

constexpr double markSize_px = 6;      ///< half of a mark's width
constexpr double laneLabelGap_px = 14; ///< a mark at the very end of a lane stays clear of the words
constexpr std::string_view outline = "#000000";

/// A stretch of bins that carry a flag.
struct Stretch {
    double start_s;
    double end_s;
};

/// The stretches under any of the flags in `mask`, those less than `gap_s` apart taken as one.
std::vector<Stretch> stretchesOf(PictureBins bins, std::uint32_t mask, double gap_s) {
    std::vector<Stretch> found;
    for (const auto& bin : bins) {
        if ((bin.marks & mask) == 0)
            continue;
        if (!found.empty() && bin.start - found.back().end_s <= gap_s)
            found.back().end_s = bin.end;
        else
            found.push_back({bin.start, bin.end});
    }
    return found;
}

std::uint32_t maskOf(cut::Flag flag) noexcept {
    return static_cast<std::uint32_t>(flag);
}

std::string polygon(double x, double y, std::initializer_list<std::pair<double, double>> corners) {
    std::string data;
    for (const auto& [dx, dy] : corners)
        data += (data.empty() ? "M" : "L") + coordinate(x + dx * markSize_px) + " "
                + coordinate(y + dy * markSize_px);
    return data + "Z";
}

std::string circle(double x, double y) {
    const auto r = coordinate(0.9 * markSize_px);
    const auto left = coordinate(x - 0.9 * markSize_px), right = coordinate(x + 0.9 * markSize_px);
    const auto arc = "A" + r + " " + r + " 0 0 1 ";
    return "M" + left + " " + coordinate(y) + arc + right + " " + coordinate(y) + arc + left + " "
           + coordinate(y) + "Z";
}

std::string outlineOf(log::MarkShape shape, double x, double y) {
    constexpr auto a = 0.35; // half the width of a cross' arms
    switch (shape) {
    case log::MarkShape::cross:
        return polygon(x, y,
                       {{-1, -1 + a},
                        {-1 + a, -1},
                        {0, -a},
                        {1 - a, -1},
                        {1, -1 + a},
                        {a, 0},
                        {1, 1 - a},
                        {1 - a, 1},
                        {0, a},
                        {-1 + a, 1},
                        {-1, 1 - a},
                        {-a, 0}});
    case log::MarkShape::plus:
        return polygon(x, y,
                       {{-a, -1},
                        {a, -1},
                        {a, -a},
                        {1, -a},
                        {1, a},
                        {a, a},
                        {a, 1},
                        {-a, 1},
                        {-a, a},
                        {-1, a},
                        {-1, -a},
                        {-a, -a}});
    case log::MarkShape::triangleUp:
        return polygon(x, y, {{0, -1}, {1, 0.9}, {-1, 0.9}});
    case log::MarkShape::triangleDown:
        return polygon(x, y, {{0, 1}, {1, -0.9}, {-1, -0.9}});
    case log::MarkShape::triangleLeft:
        return polygon(x, y, {{-1, 0}, {0.9, -1}, {0.9, 1}});
    case log::MarkShape::triangleRight:
        return polygon(x, y, {{1, 0}, {-0.9, -1}, {-0.9, 1}});
    case log::MarkShape::hexagon:
        return polygon(x, y, {{-1, 0}, {-0.5, -0.9}, {0.5, -0.9}, {1, 0}, {0.5, 0.9}, {-0.5, 0.9}});
    case log::MarkShape::hourglass:
        return polygon(x, y, {{-0.9, -1}, {0.9, -1}, {0.15, 0}, {0.9, 1}, {-0.9, 1}, {-0.15, 0}});
    case log::MarkShape::diamond:
        return polygon(x, y, {{0, -1.1}, {1.1, 0}, {0, 1.1}, {-1.1, 0}});
    case log::MarkShape::square:
        return polygon(x, y, {{-0.85, -0.85}, {0.85, -0.85}, {0.85, 0.85}, {-0.85, 0.85}});
    case log::MarkShape::bar:
        return polygon(x, y, {{-0.35, -1.1}, {0.35, -1.1}, {0.35, 1.1}, {-0.35, 1.1}});
    case log::MarkShape::circle:
        return circle(x, y);
    }
    return "";
}

void drawLane(SvgDrawing& drawing, const Panel& panel, double y, const log::FlagRow& row, PictureBins bins,
              long long passages) {
    const auto perPixel_s = (panel.across.greatest - panel.across.least) / (panel.right() - panel.left());
    drawing.line(panel.left(), y, panel.right(), y, {.stroke = "#d9d9d9"});
    drawing.text(panel.left() - laneLabelGap_px, y + 0.35 * label_px, std::string(cut::name(row.flag)),
                 {.size_px = label_px, .anchor = "end"});
    drawing.text(panel.right() + laneLabelGap_px, y + 0.35 * label_px, counted(passages, "passage"),
                 {.size_px = label_px});
    for (const auto& stretch : stretchesOf(bins, maskOf(row.flag), 2 * markSize_px * perPixel_s)) {
        const auto x1 = panel.across(stretch.start_s), x2 = panel.across(stretch.end_s);
        drawing.rectangle(x1, y - 2, std::max(1.0, x2 - x1), 4, {.fill = row.colour});
        drawing.path(outlineOf(row.shape, (x1 + x2) / 2, y),
                     {.fill = row.colour, .stroke = outline, .strokeWidth = 0.8});
    }
}

} // namespace

int laneCount(const cut::CutSummary& summary) noexcept {
    return static_cast<int>(std::count_if(summary.flaggedPassages.begin(), summary.flaggedPassages.end(),
                                          [](auto passages) { return passages > 0; }));
}

void drawFlagLanes(SvgDrawing& drawing, const Panel& panel, PictureBins bins,
                   const cut::CutSummary& summary) {
    auto y = panel.top() + laneHeight_px / 2;
    for (const auto& row : log::flagTable()) {
        const auto passages = summary.flaggedPassages[cut::indexOf(row.flag)];
        if (passages == 0)
            continue;
        drawLane(drawing, panel, y, row, bins, passages);
        y += laneHeight_px;
    }
}

void drawSpoiltPlaces(SvgDrawing& drawing, const Panel& panel, PictureBins bins, std::size_t placesMax) {
    for (const auto& row : log::flagTable()) {
        if (!cut::spoils(row.flag))
            continue;
        const auto places = stretchesOf(bins, maskOf(row.flag), 0);
        if (places.size() > placesMax)
            continue;
        for (const auto& place : places) {
            const auto x1 = panel.across(place.start_s), x2 = panel.across(place.end_s);
            drawing.rectangle(x1, panel.top(), std::max(1.5, x2 - x1), panel.bottom() - panel.top(),
                              {.fill = row.colour, .fillOpacity = 0.45});
        }
    }
}

} // namespace headland::console
