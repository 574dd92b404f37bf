// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/DimensionLines.h"

#include "Console/PictureColours.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace headland::console {

namespace {

constexpr double headLength_px = 10, headHalf_px = 4; ///< of an arrow
constexpr double insideMin_px = 34;                   ///< a shorter line has its arrows outside, pointing in
constexpr double tail_px = 26;                        ///< of an arrow outside
constexpr double endHalf_px = 7;                      ///< of the cross stroke at each end
constexpr double shiftStep_px = 44;
constexpr int shiftsMax = 14;
constexpr double dimension_px = 15, plateHeight_px = 23, platePadding_px = 6;
constexpr double plateGap_px = 9; ///< between a line and its plate

constexpr Paint haloPaint{.stroke = white, .strokeWidth = 4.5};
constexpr Paint linePaint{.stroke = black, .strokeWidth = 1.6};
constexpr Paint witnessPaint{.stroke = black, .strokeWidth = 1};
constexpr Paint witnessHalo{.stroke = white, .strokeWidth = 3};
constexpr Paint headPaint{.fill = black, .stroke = white, .strokeWidth = 0.8};
constexpr Paint platePaint{.fill = white, .stroke = black, .strokeWidth = 0.8};

/// A dimension where it is drawn.
struct Placed {
    const Dimension& what;
    double x; ///< of the line
    double upper, lower;
    bool isInside; ///< arrows between the ends

    Box box() const {
        const auto beyond = isInside ? 0 : tail_px;
        return {x - endHalf_px, upper - beyond, x + endHalf_px, lower + beyond};
    }
};

Placed placedAt(const Dimension& dimension, double x) {
    const auto [upper, lower] = std::minmax(dimension.from.second, dimension.to.second);
    return {dimension, x, upper, lower, lower - upper >= insideMin_px};
}

bool isClear(const Box& box, const std::vector<Box>& taken) {
    return std::none_of(taken.begin(), taken.end(), [&](const Box& other) { return box.meets(other); });
}

/// Where it belongs, or as little beside it as it takes; where there is no room at all, where it belongs.
Placed place(const Dimension& dimension, const Box& view, const std::vector<Box>& taken) {
    const auto own = (dimension.from.first + dimension.to.first) / 2;
    for (int i = 0; i <= 2 * shiftsMax; ++i) {
        const auto placed = placedAt(dimension, own + (i % 2 ? 1 : -1) * ((i + 1) / 2) * shiftStep_px);
        if (isClear(placed.box().grown(4), taken) && view.left < placed.x - 2 * endHalf_px
            && view.right > placed.x + 2 * endHalf_px)
            return placed;
    }
    return placedAt(dimension, own);
}

void drawHead(SvgDrawing& drawing, SheetPoint tip, double dx, double dy) {
    const auto at = [&](double along, double aside) {
        return coordinate(tip.first - along * dx - aside * dy) + " "
               + coordinate(tip.second - along * dy + aside * dx);
    };
    drawing.path("M" + at(0, 0) + "L" + at(headLength_px, headHalf_px) + "L" + at(headLength_px, -headHalf_px)
                     + "Z",
                 headPaint);
}

void drawWitness(SvgDrawing& drawing, const Placed& placed, const Paint& paint) {
    for (const auto& [x, y] : {placed.what.from, placed.what.to})
        if (std::abs(x - placed.x) > 2 * endHalf_px)
            drawing.line(x, y, placed.x, y, paint);
}

/// The strokes, without heads.
void drawStrokes(SvgDrawing& drawing, const Placed& placed, const Paint& paint) {
    for (const auto y : {placed.upper, placed.lower})
        drawing.line(placed.x - endHalf_px, y, placed.x + endHalf_px, y, paint);
    drawing.line(placed.x, placed.upper, placed.x, placed.lower, paint);
    if (placed.isInside)
        return;
    drawing.line(placed.x, placed.upper - tail_px, placed.x, placed.upper, paint);
    drawing.line(placed.x, placed.lower, placed.x, placed.lower + tail_px, paint);
}

void drawLine(SvgDrawing& drawing, const Placed& placed) {
    drawWitness(drawing, placed, witnessHalo);
    drawStrokes(drawing, placed, haloPaint);
    drawWitness(drawing, placed, witnessPaint);
    drawStrokes(drawing, placed, linePaint);
    const auto up = placed.isInside ? -1.0 : 1.0;
    drawHead(drawing, {placed.x, placed.upper}, 0, up);
    drawHead(drawing, {placed.x, placed.lower}, 0, -up);
}

/// Where a plate goes.
struct Plate {
    Box box;
    double cost = std::numeric_limits<double>::infinity();
};

double costOf(const Box& box, double away_px, const std::vector<SheetPoint>& ink) {
    constexpr double perPixelAway = 0.25;
    const auto covered = std::count_if(ink.begin(), ink.end(), [&](const SheetPoint& point) {
        return box.grown(3).holds(point.first, point.second);
    });
    return static_cast<double>(covered) + perPixelAway * away_px;
}

/// The cheapest place that meets nothing, at any height along the line or a little beyond, further away if need be.
Plate findPlate(const Placed& placed, const Box& room, const std::vector<Box>& taken,
                const std::vector<SheetPoint>& ink) {
    constexpr double step_px = 6;
    const auto width = textWidth_px(placed.what.label, dimension_px) + 2 * platePadding_px;
    const auto middle = (placed.upper + placed.lower) / 2;
    Plate best;
    for (int side : {1, -1})
        for (int away = 0; away < 60; ++away)
            for (int up = -60; up <= 60; ++up) {
                const auto away_px = away * step_px;
                const auto near = placed.x + side * (endHalf_px + plateGap_px + away_px);
                const auto top = middle + up * step_px - plateHeight_px / 2;
                const Box box{side > 0 ? near : near - width, top, side > 0 ? near + width : near,
                              top + plateHeight_px};
                const auto beyond = std::max({0.0, placed.upper - box.bottom, box.top - placed.lower});
                const auto far_px = away_px + 2 * beyond;
                if (far_px / 4 >= best.cost || !room.grown(-5).holds(box) || !isClear(box.grown(4), taken))
                    continue;
                if (const auto cost = costOf(box, far_px, ink); cost < best.cost)
                    best = {box, cost};
            }
    return best;
}

/// From the line to a plate that is not beside it.
void drawLeader(SvgDrawing& drawing, const Placed& placed, const Box& plate) {
    const auto beside = plate.left > placed.x ? plate.left : plate.right;
    const auto y = (plate.top + plate.bottom) / 2;
    const auto at = std::clamp(y, placed.box().top, placed.box().bottom);
    drawing.line(placed.x, at, beside, y, witnessHalo);
    drawing.line(placed.x, at, beside, y, witnessPaint);
}

void drawPlate(SvgDrawing& drawing, const Box& box, const std::string& label) {
    drawing.rectangle(box.left, box.top, box.width(), box.height(), platePaint);
    drawing.text((box.left + box.right) / 2, box.top + 0.5 * plateHeight_px + 0.36 * dimension_px, label,
                 {.size_px = dimension_px, .anchor = "middle"});
}

} // namespace

void drawDimensions(SvgDrawing& drawing, const Box& view, const Box& room,
                    const std::vector<Dimension>& dimensions, const std::vector<SheetPoint>& ink,
                    std::vector<Box> taken) {
    std::vector<Placed> lines;
    for (const auto& dimension : dimensions) {
        lines.push_back(place(dimension, view, taken));
        taken.push_back(lines.back().box());
    }
    for (const auto& line : lines)
        for (const auto& [x, y] : {line.what.from, line.what.to}) // the witness lines
            taken.push_back({std::min(x, line.x), y - 1, std::max(x, line.x), y + 1});
    std::vector<std::pair<Box, std::string>> plates;
    for (const auto& line : lines) {
        const auto plate = findPlate(line, room, taken, ink);
        if (!std::isfinite(plate.cost))
            continue; // as many dimensions as fill the room
        taken.push_back(plate.box);
        plates.emplace_back(plate.box, line.what.label);
        drawLeader(drawing, line, plate.box);
    }
    for (const auto& line : lines)
        drawLine(drawing, line);
    for (const auto& [box, label] : plates)
        drawPlate(drawing, box, label);
}

void drawArrow(SvgDrawing& drawing, SheetPoint from, SheetPoint to) {
    const auto dx = to.first - from.first, dy = to.second - from.second;
    const auto length = std::hypot(dx, dy);
    drawing.line(from.first, from.second, to.first - dx / length * headLength_px / 2,
                 to.second - dy / length * headLength_px / 2, linePaint);
    drawHead(drawing, to, dx / length, dy / length);
}

} // namespace headland::console
