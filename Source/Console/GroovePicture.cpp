// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/GroovePicture.h"

#include "Console/DimensionLines.h"
#include "Console/Picture.h"
#include "Console/PictureColours.h"
#include "Console/PictureTitle.h"
#include "Cut/GrooveScale.h"
#include "Cut/PatchPlan.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>
#include <vector>

namespace headland::console {

using cut::PatchMeasure;
using cut::PlanPoint;
using text::fixed;
using text::plain;

namespace {

constexpr Box room{190, 134, pictureWidth_px - 24.0, 900};
constexpr double titleLeft_px = 24;
constexpr double scaleBarMost_px = 260, scaleBarHeight_px = 8;
constexpr double stripTop_px = 918;       ///< below the view: scale bar, key, directions
constexpr double turnLabelHeight_px = 40; ///< two lines and the room between one turn's and the next's
constexpr double hatchStep_px = 7, hatchSlant_px = 5;
constexpr double inkStep_px = 6; ///< between the points of the lines that plates keep off

constexpr std::string_view landColour = "#efebe0";

constexpr Paint landPaint{.fill = landColour};
constexpr Paint litWallPaint{.fill = skyBlue};
constexpr Paint darkWallPaint{.fill = blue};
constexpr Paint edgePaint{.stroke = black, .strokeWidth = 1.2};
constexpr Paint bottomPaint{.stroke = white, .strokeWidth = 1.6};
constexpr Paint overcutPaint{.fill = vermilion, .stroke = black, .strokeWidth = 2.4};
constexpr Paint hatchPaint{.stroke = black, .strokeWidth = 1.2};
constexpr Paint framePaint{.stroke = black, .strokeWidth = 1.2};
constexpr Paint coverPaint{.fill = white};
constexpr Paint leaderPaint{.stroke = black, .strokeWidth = 1};

using Run = cut::PointRun;

/// What every part of the picture draws from.
struct Scene {
    explicit Scene(const GroovePictureContent& c)
        : content(c), patch(c.patch), plan(c.patch), scale(cut::fitScale(plan, c.patch, {.room = room})) {}

    const GroovePictureContent& content;
    const cut::GroovePatch& patch;
    cut::PatchPlan plan;
    cut::GrooveScale scale;

    /// On the sheet; held near the view, where the white around it covers what is beyond.
    SheetPoint at(const PlanPoint& point) const {
        constexpr double beyond_px = 20;
        return {scale.x(point),
                std::clamp(scale.y(point), scale.view.top - beyond_px, scale.view.bottom + beyond_px)};
    }
    double time_s(std::size_t turn, std::size_t point) const {
        const auto turns = patch.turns[turn].turn + patch.angle_rad(point) / (2 * std::numbers::pi);
        return patch.time_s + turns * content.settings.turn_s();
    }
    Run pointsInView() const { return cut::pointsInView(plan, patch, scale); }
    bool isGroove(std::size_t turn, std::size_t point) const { return plan.width_um(turn, point) > 0; }
};

/// A time to the millisecond, which is half a millimetre of groove.
std::string timeText(double time_s) {
    const auto size_ms = std::llround(std::abs(time_s) * 1000);
    const auto seconds = text::minutesSeconds(static_cast<double>(size_ms / 1000));
    const auto fraction = fixed(static_cast<double>(size_ms % 1000) / 1000, 3).substr(1);
    return (time_s < 0 && size_ms > 0 ? "−" : "") + seconds + fraction;
}

/// "−1", "0", "1"
std::string turnText(int turn) {
    return turn < 0 ? "−" + std::to_string(-turn) : std::to_string(turn);
}

/// A length to a tenth of a µm, negative with a minus that is seen.
std::string lengthText(double value_um) {
    const auto text = fixed(value_um, 1);
    return (text.front() == '-' ? "−" + text.substr(1) : text) + " µm";
}

// --- Title

std::string settingsLine(const Scene& scene) {
    const auto& settings = scene.content.settings;
    const auto radius_mm = scene.plan.referenceRadius_mm();
    const auto before = timeText(scene.patch.time_s) + " at the stylus; radius " + fixed(radius_mm, 2)
                        + " mm, diameter " + text::diameterText(2 * radius_mm) + "; "
                        + std::string(settings.discFormat().name) + "; disc level "
                        + fixed(settings.disc_level_db, 1) + " dB; ";
    constexpr double settings_px = 16;
    const auto left_px = room.right - titleLeft_px - textWidth_px(before, settings_px);
    return before + shortened(scene.content.source, settings_px, left_px);
}

std::string resultLine(const Scene& scene, const std::optional<PatchMeasure>& land) {
    const auto set = "; set land " + plain(scene.content.settings.land_min_um) + " µm";
    const auto field = scene.scale.field();
    if (!land)
        return (scene.plan.narrowestGroove(field) ? "No two neighbouring turns here, and so no land"
                                                  : "Nothing was cut here")
               + set;
    const auto turn = scene.patch.turns[land->turn].turn;
    const auto where = " between the turns " + turnText(turn - 1) + " and " + turnText(turn) + ", at "
                       + timeText(scene.time_s(land->turn, land->point));
    return land->value_um < 0 ? "Overcut by " + lengthText(-land->value_um) + where + set
                              : "Least land here " + lengthText(land->value_um) + where + set;
}

// --- The view

std::string pairText(double x, double y) {
    return coordinate(x) + " " + coordinate(y);
}

/// Straight from point to point.
std::string polygonOf(const std::vector<SheetPoint>& points) {
    std::string data;
    for (const auto& [x, y] : points)
        data += (data.empty() ? "M" : "L") + pairText(x, y);
    return points.size() < 2 ? std::string() : data + "Z";
}

/// Through the points in curves, as the wall runs between the samples: a cubic from each to the next, along the line between
/// its neighbours (Catmull and Rom). `start` is the command that leads to the first point.
std::string curveThrough(const std::vector<SheetPoint>& points, const char* start) {
    if (points.size() < 2)
        return {};
    auto data = start + pairText(points[0].first, points[0].second);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const auto &before = points[i == 0 ? 0 : i - 1], &from = points[i], &to = points[i + 1];
        const auto& after = points[std::min(i + 2, points.size() - 1)];
        data += "C"
                + pairText(from.first + (to.first - before.first) / 6,
                           from.second + (to.second - before.second) / 6)
                + " "
                + pairText(to.first - (after.first - from.first) / 6,
                           to.second - (after.second - from.second) / 6)
                + " " + pairText(to.first, to.second);
    }
    return data;
}

/// The area between two lines that run alike.
std::string areaBetween(const std::vector<SheetPoint>& one, std::vector<SheetPoint> other) {
    std::reverse(other.begin(), other.end());
    return one.size() < 2 ? std::string() : curveThrough(one, "M") + curveThrough(other, "L") + "Z";
}

template <typename Where>
std::vector<SheetPoint> lineOf(const Scene& scene, const Run& run, Where where) {
    std::vector<SheetPoint> points;
    for (auto point = run.first; point < run.end; ++point)
        points.push_back(scene.at(where(point)));
    return points;
}

void drawTurn(SvgDrawing& drawing, const Scene& scene, std::size_t turn, const Run& run) {
    const auto& plan = scene.plan;
    const auto outer = lineOf(scene, run, [&](std::size_t p) { return plan.outerEdge(turn, p); });
    const auto inner = lineOf(scene, run, [&](std::size_t p) { return plan.innerEdge(turn, p); });
    const auto bottom = lineOf(scene, run, [&](std::size_t p) { return plan.bottom(turn, p); });
    // Lit from the disc's middle: the outer wall faces it.
    drawing.path(areaBetween(outer, bottom), litWallPaint);
    drawing.path(areaBetween(bottom, inner), darkWallPaint);
    drawing.path(curveThrough(bottom, "M"), bottomPaint);
    drawing.path(curveThrough(outer, "M"), edgePaint);
    drawing.path(curveThrough(inner, "M"), edgePaint);
}

/// Strokes from edge to edge, slanted.
void drawHatch(SvgDrawing& drawing, const std::vector<SheetPoint>& one,
               const std::vector<SheetPoint>& other) {
    const auto yAt = [](const std::vector<SheetPoint>& line, double x) {
        const auto next = std::find_if(line.begin() + 1, line.end() - 1,
                                       [x](const SheetPoint& point) { return point.first >= x; });
        const auto& [x1, y1] = next[-1];
        const auto& [x2, y2] = *next;
        return x2 > x1 ? y1 + (x - x1) / (x2 - x1) * (y2 - y1) : y1;
    };
    if (one.size() < 2)
        return;
    for (auto x = one.front().first + 1; x + hatchSlant_px < one.back().first; x += hatchStep_px)
        drawing.line(x, yAt(one, x), x + hatchSlant_px, yAt(other, x + hatchSlant_px), hatchPaint);
}

/// Where this turn has met the one before.
void drawOvercut(SvgDrawing& drawing, const Scene& scene, std::size_t turn, const Run& run) {
    const auto& plan = scene.plan;
    auto outer = lineOf(scene, run, [&](std::size_t p) { return plan.outerEdge(turn, p); });
    auto inner = lineOf(scene, run, [&](std::size_t p) { return plan.innerEdge(turn - 1, p); });
    const auto tip = [&](bool isThere, std::size_t in, std::size_t out) {
        return isThere ? cut::tipOfOvercut(plan, turn, in, out) : std::nullopt;
    };
    const auto before = tip(run.first > 0, run.first, run.first - 1);
    const auto after = tip(run.end < scene.patch.points, run.end - 1, run.end);
    for (auto* line : {&outer, &inner}) {
        if (before)
            line->insert(line->begin(), scene.at(*before));
        if (after)
            line->push_back(scene.at(*after));
    }
    drawing.path(areaBetween(outer, inner), overcutPaint);
    drawHatch(drawing, outer, inner);
}

/// The white around the view, over what was drawn beyond it.
void coverAround(SvgDrawing& drawing, const Box& view) {
    drawing.rectangle(0, 0, pictureWidth_px, view.top, coverPaint);
    drawing.rectangle(0, view.bottom, pictureWidth_px, pictureHeight_px - view.bottom, coverPaint);
    drawing.rectangle(0, view.top, view.left, view.height(), coverPaint);
    drawing.rectangle(view.right, view.top, pictureWidth_px - view.right, view.height(), coverPaint);
    drawing.rectangle(view.left, view.top, view.width(), view.height(), framePaint);
}

bool isOvercutInView(const Scene& scene) {
    const auto land = scene.plan.narrowestLand(scene.scale.field());
    return land && land->value_um < 0;
}

void drawView(SvgDrawing& drawing, const Scene& scene) {
    const auto& view = scene.scale.view;
    drawing.rectangle(view.left, view.top, view.width(), view.height(), landPaint);
    const auto shown = scene.pointsInView();
    for (std::size_t turn = 0; turn < scene.patch.turns.size(); ++turn) // as they were cut
        for (const auto& run : cut::runsOf(shown, [&](std::size_t p) { return scene.isGroove(turn, p); }))
            drawTurn(drawing, scene, turn, run);
    const auto isMet = [&](std::size_t turn, std::size_t p) {
        return scene.plan.land_um(turn, p) < 0 && scene.isGroove(turn, p) && scene.isGroove(turn - 1, p);
    };
    for (std::size_t turn = 1; turn < scene.patch.turns.size(); ++turn)
        for (const auto& run : cut::runsOf(shown, [&](std::size_t p) { return isMet(turn, p); }))
            drawOvercut(drawing, scene, turn, run);
    coverAround(drawing, view);
}

// --- Around the view

/// Where a turn's label stands beside the view.
struct TurnLabel {
    std::size_t turn;
    double groove_px; ///< y of the groove at the view's left edge
    double y;         ///< of the label's middle
};

std::vector<TurnLabel> turnLabels(const Scene& scene) {
    std::vector<TurnLabel> labels;
    const auto& view = scene.scale.view;
    const auto [first, end] = scene.pointsInView();
    for (std::size_t turn = 0; turn < scene.patch.turns.size(); ++turn)
        for (auto point = first; point < end; ++point)
            if (scene.scale.field().holds(scene.plan.bottom(turn, point))) {
                const auto y = scene.scale.y(scene.plan.bottom(turn, point));
                labels.push_back(
                    {turn, y,
                     std::clamp(y, view.top + turnLabelHeight_px / 2, view.bottom - turnLabelHeight_px / 2)});
                break;
            }
    std::sort(labels.begin(), labels.end(), [](const auto& a, const auto& b) { return a.y < b.y; });
    for (std::size_t i = 1; i < labels.size(); ++i)
        labels[i].y = std::max(labels[i].y, labels[i - 1].y + turnLabelHeight_px);
    auto lowest = view.bottom - turnLabelHeight_px / 2;
    for (auto label = labels.rbegin(); label != labels.rend(); ++label, lowest -= turnLabelHeight_px)
        label->y = std::min(label->y, lowest);
    return labels;
}

void drawTurnLabels(SvgDrawing& drawing, const Scene& scene) {
    constexpr double leader_px = 16, gap_px = 5;
    const auto edge = scene.scale.view.left;
    for (const auto& label : turnLabels(scene)) {
        const auto turn = scene.patch.turns[label.turn].turn;
        const auto right = edge - leader_px - gap_px;
        drawing.line(edge - leader_px, label.y, edge, label.groove_px, leaderPaint);
        drawing.text(right, label.y - 2, "turn " + turnText(turn) + (turn == 0 ? ", the place" : ""),
                     {.size_px = label_px, .anchor = "end", .bold = true});
        drawing.text(right, label.y + label_px, timeText(scene.time_s(label.turn, scene.plan.placePoint())),
                     {.size_px = label_px, .anchor = "end"});
    }
}

constexpr double markHalf_px = 6;
constexpr const char* markName = "the place";

/// Triangles above and below the view that point at the place.
void drawPlaceMarks(SvgDrawing& drawing, const Scene& scene) {
    const auto x = scene.scale.alongZero_px;
    const auto mark = [&](double y, double away) {
        drawing.path(polygonOf({{x, y}, {x - markHalf_px, y + away}, {x + markHalf_px, y + away}}),
                     {.fill = black});
    };
    mark(scene.scale.view.top, -2 * markHalf_px);
    mark(scene.scale.view.bottom, 2 * markHalf_px);
    drawing.text(x + 2 * markHalf_px, scene.scale.view.top - 4, markName, {.size_px = label_px});
}

/// What the marks take.
std::vector<Box> markBoxes(const Scene& scene) {
    const auto x = scene.scale.alongZero_px, left = x - markHalf_px;
    const auto top = scene.scale.view.top, bottom = scene.scale.view.bottom;
    return {{left, top - 4 - label_px, x + 2 * markHalf_px + textWidth_px(markName, label_px), top - 1},
            {left, bottom + 1, x + markHalf_px, bottom + 2 * markHalf_px}};
}

void drawScaleBar(SvgDrawing& drawing, const Scene& scene) {
    const auto length_um = cut::roundLength_um(scene.scale.px_per_um, scaleBarMost_px);
    const auto length_px = length_um * scene.scale.px_per_um;
    drawing.rectangle(room.left, stripTop_px, length_px, scaleBarHeight_px, {.fill = black});
    drawing.text(room.left, stripTop_px + 28, plain(length_um) + " µm, along and across",
                 {.size_px = 15, .bold = true});
}

/// A sample of each kind of area and line, with its name.
void drawKey(SvgDrawing& drawing, const Scene& scene) {
    constexpr double sample_px = 30, row_px = 26, height_px = 16;
    constexpr double firstColumn_px = 480, secondColumn_px = 740, thirdColumn_px = 1000;
    const auto area = [&](double x, int row, const Paint& paint, const std::string& name) {
        const auto y = stripTop_px - 4 + row * row_px;
        drawing.rectangle(x, y, sample_px, height_px, paint);
        drawing.text(x + sample_px + 8, y + 0.5 * height_px + 0.36 * label_px, name, {.size_px = label_px});
        return y;
    };
    constexpr auto outlined = [](Paint paint) {
        paint.stroke = black;
        paint.strokeWidth = 1;
        return paint;
    };
    area(firstColumn_px, 0, outlined(litWallPaint), "outer wall, right channel");
    area(firstColumn_px, 1, outlined(darkWallPaint), "inner wall, left channel");
    area(secondColumn_px, 0, outlined(landPaint), "land");
    const auto y = area(secondColumn_px, 1, darkWallPaint, "bottom of the groove") + height_px / 2;
    drawing.line(secondColumn_px, y, secondColumn_px + sample_px, y, bottomPaint);
    if (!isOvercutInView(scene))
        return;
    const auto top = area(thirdColumn_px, 0, overcutPaint, "overcut: two grooves have met");
    const auto edge = [&](double at) {
        return std::vector<SheetPoint>{{thirdColumn_px, at}, {thirdColumn_px + sample_px, at}};
    };
    drawHatch(drawing, edge(top), edge(top + height_px));
}

void drawDirections(SvgDrawing& drawing) {
    constexpr double x = 1330, along_px = 60, outward_px = 42;
    constexpr double y = stripTop_px + 4;
    drawArrow(drawing, {x, y}, {x + along_px, y});
    drawing.text(x + along_px + 10, y + 0.36 * label_px, "the way of the cut", {.size_px = label_px});
    drawArrow(drawing, {x, y}, {x, y + outward_px});
    drawing.text(x + 12, y + outward_px - 4, "outward, to the edge of the disc", {.size_px = label_px});
}

// --- Dimensions

Dimension dimensionOf(const Scene& scene, const PlanPoint& from, const PlanPoint& to, std::string label) {
    return {
        {scene.scale.x(from), scene.scale.y(from)}, {scene.scale.x(to), scene.scale.y(to)}, std::move(label)};
}

void addLand(std::vector<Dimension>& dimensions, const Scene& scene) {
    const auto quarter_um = (scene.scale.field().greatestAlong_um) / 2;
    const auto land = cut::narrowestLandNear(scene.plan, scene.patch, scene.scale.field(), -quarter_um);
    if (land)
        dimensions.push_back(dimensionOf(scene, scene.plan.innerEdge(land->turn - 1, land->point),
                                         scene.plan.outerEdge(land->turn, land->point),
                                         (land->value_um < 0 ? "overcut: land " : "least land ")
                                             + lengthText(land->value_um)));
}

void addWidth(std::vector<Dimension>& dimensions, const Scene& scene) {
    const auto quarter_um = (scene.scale.field().greatestAlong_um) / 2;
    const auto groove = cut::narrowestGrooveNear(scene.plan, scene.patch, scene.scale.field(), quarter_um);
    if (groove)
        dimensions.push_back(dimensionOf(scene, scene.plan.innerEdge(groove->turn, groove->point),
                                         scene.plan.outerEdge(groove->turn, groove->point),
                                         "narrowest groove " + lengthText(groove->value_um)));
}

/// Spacing to the turn before, or where there is none to the turn after; and the depth, which in plan is half the width
/// of a 90° V.
void addPlace(std::vector<Dimension>& dimensions, const Scene& scene) {
    const auto place = scene.plan.placeTurn();
    const auto point = scene.plan.placePoint();
    if (!place)
        return;
    const auto& plan = scene.plan;
    const auto field = scene.scale.field();
    for (const auto turn : {*place, *place + 1}) {
        const auto spacing_um = plan.spacing_um(turn, point);
        if (!std::isfinite(spacing_um) || !field.holds(plan.bottom(turn - 1, point))
            || !field.holds(plan.bottom(turn, point)))
            continue;
        dimensions.push_back(dimensionOf(scene, plan.bottom(turn - 1, point), plan.bottom(turn, point),
                                         "spacing " + lengthText(spacing_um)));
        break;
    }
    if (scene.isGroove(*place, point) && field.holds(plan.innerEdge(*place, point)))
        dimensions.push_back(
            dimensionOf(scene, plan.bottom(*place, point), plan.innerEdge(*place, point),
                        "depth " + lengthText(plan.depth_um(*place, point)) + ", bottom to edge"));
}

/// Points of the lines that plates keep off.
std::vector<SheetPoint> inkOf(const Scene& scene) {
    std::vector<SheetPoint> ink;
    const auto [first, end] = scene.pointsInView();
    for (std::size_t turn = 0; turn < scene.patch.turns.size(); ++turn) {
        auto last_px = -inkStep_px;
        for (auto point = first; point < end; ++point) {
            const auto x = scene.scale.x(scene.plan.bottom(turn, point));
            if (!(x - last_px >= inkStep_px))
                continue;
            last_px = x;
            for (const auto& place : {scene.plan.outerEdge(turn, point), scene.plan.bottom(turn, point),
                                      scene.plan.innerEdge(turn, point)})
                ink.emplace_back(scene.scale.x(place), scene.scale.y(place));
        }
    }
    return ink;
}

void drawMeasures(SvgDrawing& drawing, const Scene& scene) {
    std::vector<Dimension> dimensions;
    addLand(dimensions, scene);
    addPlace(dimensions, scene);
    addWidth(dimensions, scene);
    drawDimensions(drawing, scene.scale.view, room, dimensions, inkOf(scene), markBoxes(scene));
}

} // namespace

SvgDrawing drawGroovePicture(const GroovePictureContent& content) {
    SvgDrawing drawing(pictureWidth_px, pictureHeight_px);
    const Scene scene(content);
    drawView(drawing, scene);
    drawMeasures(drawing, scene);
    drawTitle(drawing, titleLeft_px, room.right,
              {content.fileName, settingsLine(scene),
               resultLine(scene, scene.plan.narrowestLand(scene.scale.field()))});
    drawTurnLabels(drawing, scene);
    drawPlaceMarks(drawing, scene);
    drawScaleBar(drawing, scene);
    drawKey(drawing, scene);
    drawDirections(drawing);
    return drawing;
}

} // namespace headland::console
