// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/GrooveWindow.h"

#include "Cut/CutFrame.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>

namespace headland::editor {

using cut::PatchMeasure;
using cut::PlanPoint;
using cut::PointRun;

namespace {

using Line = std::vector<juce::Point<float>>;

constexpr float grooveMargin = 8, grooveCorner = 4;
constexpr float grooveLetters = 14, grooveSmallLetters = 12;
constexpr float headLine = 18, stripHeight = 20, turnColumn = 52;
constexpr float scaleBarMost = 110, scaleBarHeight = 5;
constexpr float markHalf = 5; ///< of the triangles at the place
constexpr float hatchStep = 5, hatchSlant = 4;
constexpr float headLength = 8, headHalf = 3.5f, insideMin = 26, tail = 16; ///< of a dimension line
constexpr float plateHeight = 19, plateGap = 8;

bool isSame(const cut::GroovePatch& a, const cut::GroovePatch& b) {
    const auto sameEdges = [](const cut::PatchTurn& x, const cut::PatchTurn& y) {
        static_assert(sizeof(cut::EdgePoint) == 2 * sizeof(float)); // bits are compared: NaN equals NaN
        return x.turn == y.turn && x.edges.size() == y.edges.size()
               && (x.edges.empty()
                   || std::memcmp(x.edges.data(), y.edges.data(), x.edges.size() * sizeof(cut::EdgePoint))
                          == 0);
    };
    return a.time_s == b.time_s && a.startRadius_mm == b.startRadius_mm && a.step_rad == b.step_rad
           && a.points == b.points
           && std::equal(a.turns.begin(), a.turns.end(), b.turns.begin(), b.turns.end(), sameEdges);
}

bool isSame(const GrooveSight& a, const GrooveSight& b) {
    return a.heading == b.heading && a.none == b.none && a.landSet_um == b.landSet_um
           && a.patch.has_value() == b.patch.has_value() && (!a.patch || isSame(*a.patch, *b.patch));
}

/// "−1", "0", "1"
std::string turnText(int turn) {
    return turn < 0 ? "−" + std::to_string(-turn) : std::to_string(turn);
}

/// Of the points in one column of pixels, those that make its line: first, highest, lowest, last.
class Columns {
public:
    void add(juce::Point<float> point) {
        if (const auto column = std::floor(point.x); kept == 0 || column != at) {
            flush();
            at = column;
        }
        if (kept == 0)
            first = least = greatest = point;
        if (point.y < least.y)
            least = point;
        if (point.y > greatest.y)
            greatest = point;
        last = point;
        ++kept;
    }
    Line line() {
        flush();
        return std::move(done);
    }

private:
    void flush() {
        if (kept == 1)
            done.push_back(first);
        if (kept > 1)
            addAll();
        kept = 0;
    }
    void addAll() {
        std::array all{first, least, greatest, last};
        std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.x < b.x; });
        for (const auto& point : all)
            if (done.empty() || done.back() != point)
                done.push_back(point);
    }
    Line done;
    juce::Point<float> first, least, greatest, last;
    float at = 0;
    int kept = 0;
};

/// On through the points, as the wall runs between the samples: a cubic from each to the next, along the line between its
/// neighbours (Catmull and Rom); straight where they are as close as pixels.
void follow(juce::Path& path, const Line& points) {
    constexpr float close = 2;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        const auto &before = points[i == 0 ? 0 : i - 1], &from = points[i], &to = points[i + 1];
        const auto& after = points[std::min(i + 2, points.size() - 1)];
        if (std::abs(to.x - from.x) < close)
            path.lineTo(to);
        else
            path.cubicTo(from + (to - before) / 6.0f, to - (after - from) / 6.0f, to);
    }
}

juce::Path pathOf(const Line& points) {
    juce::Path path;
    if (points.size() < 2)
        return path;
    path.startNewSubPath(points.front());
    follow(path, points);
    return path;
}

juce::Path areaBetween(const Line& one, Line other) {
    auto path = pathOf(one);
    if (path.isEmpty() || other.size() < 2)
        return {};
    std::reverse(other.begin(), other.end());
    path.lineTo(other.front());
    follow(path, other);
    path.closeSubPath();
    return path;
}

juce::Path triangle(juce::Point<float> tip, juce::Point<float> way, float length, float half) {
    const juce::Point<float> aside(-way.y, way.x);
    juce::Path path;
    path.addTriangle(tip, tip - way * length + aside * half, tip - way * length - aside * half);
    return path;
}

float yAt(const Line& line, float x) {
    const auto next = std::find_if(line.begin() + 1, line.end() - 1,
                                   [x](const juce::Point<float>& point) { return point.x >= x; });
    const auto &a = next[-1], &b = *next;
    return b.x > a.x ? a.y + (x - a.x) / (b.x - a.x) * (b.y - a.y) : a.y;
}

/// What everything is drawn from.
struct Scene {
    const cut::GroovePatch& patch;
    cut::PatchPlan plan;
    cut::GrooveScale scale;
    PointRun shown;

    juce::Rectangle<float> view() const {
        const auto& v = scale.view;
        return juce::Rectangle<double>::leftTopRightBottom(v.left, v.top, v.right, v.bottom).toFloat();
    }
    /// Held near the view: a path that runs far outside costs time.
    juce::Point<float> at(const PlanPoint& point) const {
        constexpr double beyond = 20;
        return {static_cast<float>(scale.x(point)),
                static_cast<float>(
                    std::clamp(scale.y(point), scale.view.top - beyond, scale.view.bottom + beyond))};
    }
    bool isGroove(std::size_t turn, std::size_t point) const { return plan.width_um(turn, point) > 0; }
    bool isLifted(std::size_t turn, std::size_t point) const { return plan.width_um(turn, point) <= 0; }
    bool isMet(std::size_t turn, std::size_t point) const {
        return plan.land_um(turn, point) < 0 && isGroove(turn, point) && isGroove(turn - 1, point);
    }
    template <typename Where>
    Line lineOf(const PointRun& run, Where where) const {
        Columns columns;
        for (auto point = run.first; point < run.end; ++point)
            columns.add(at(where(point)));
        return columns.line();
    }
    /// The cut ends at the place: the stylus is there.
    bool endsAtPlace() const {
        const auto place = plan.placeTurn();
        return place && *place + 1 == patch.turns.size() && plan.placePoint() + 1 < patch.points
               && std::isfinite(plan.width_um(*place, plan.placePoint()))
               && std::isnan(plan.width_um(*place, patch.points - 1));
    }
    std::optional<PatchMeasure> narrowest() const {
        const auto field = scale.field();
        return cut::narrowestLandNear(plan, patch, field, field.leastAlong_um / 2);
    }
    template <typename Is>
    bool isAnywhere(Is is) const {
        for (std::size_t turn = 0; turn < patch.turns.size(); ++turn)
            for (auto point = shown.first; point < shown.end; ++point)
                if (is(turn, point) && scale.field().holds(plan.bottom(turn, point)))
                    return true;
        return false;
    }
    bool isAnythingCut() const {
        return isAnywhere(
            [this](auto turn, auto point) { return std::isfinite(plan.width_um(turn, point)); });
    }
    bool isAnythingLifted() const {
        return isAnywhere([this](auto turn, auto point) { return isLifted(turn, point); });
    }
};

/// Turns around the place that fill the height. Where nothing was cut after it, as at the stylus, there is one more before.
cut::GrooveFit fitFor(const cut::GroovePatch& patch, const juce::Rectangle<float>& room) {
    cut::GrooveFit fit;
    const auto box = room.toDouble();
    fit.room = {box.getX(), box.getY(), box.getRight(), box.getBottom()};
    fit.inSteps = true;
    const auto isAfter = [](const cut::PatchTurn& turn) {
        return turn.turn > 0
               && std::any_of(turn.edges.begin(), turn.edges.end(),
                              [](const cut::EdgePoint& e) { return std::isfinite(e.outer_um); });
    };
    if (std::none_of(patch.turns.begin(), patch.turns.end(), isAfter)) {
        fit.before = 2;
        fit.after = 0;
    }
    return fit;
}

// --- In the view

/// Where the groove runs out between a point and one that is lifted.
std::optional<PlanPoint> endOfGroove(const Scene& scene, std::size_t turn, std::size_t in, std::size_t out) {
    const auto inside_um = scene.plan.width_um(turn, in), outside_um = scene.plan.width_um(turn, out);
    if (!(outside_um <= 0))
        return {};
    const auto share = inside_um / (inside_um - outside_um);
    const auto a = scene.plan.bottom(turn, in), b = scene.plan.bottom(turn, out);
    return PlanPoint{a.along_um + share * (b.along_um - a.along_um),
                     a.outward_um + share * (b.outward_um - a.outward_um)};
}

/// What all grooves in view are made of; one path a kind is painted faster than one a groove. Where grooves lie over each
/// other, the overcut is painted on them.
struct Grooves {
    juce::Path lit, dark, bottoms;
};

/// Lit from the disc's middle: the outer wall faces it.
void addGroove(Grooves& grooves, const Scene& scene, std::size_t turn, const PointRun& run) {
    const auto& plan = scene.plan;
    auto outer = scene.lineOf(run, [&](std::size_t p) { return plan.outerEdge(turn, p); });
    auto inner = scene.lineOf(run, [&](std::size_t p) { return plan.innerEdge(turn, p); });
    auto bottom = scene.lineOf(run, [&](std::size_t p) { return plan.bottom(turn, p); });
    if (const auto end = run.first > 0 ? endOfGroove(scene, turn, run.first, run.first - 1) : std::nullopt)
        for (auto* line : {&outer, &inner, &bottom})
            line->insert(line->begin(), scene.at(*end));
    if (const auto end =
            run.end < scene.patch.points ? endOfGroove(scene, turn, run.end - 1, run.end) : std::nullopt)
        for (auto* line : {&outer, &inner, &bottom})
            line->push_back(scene.at(*end));
    grooves.lit.addPath(areaBetween(outer, bottom));
    grooves.dark.addPath(areaBetween(bottom, inner));
    grooves.bottoms.addPath(stroked(pathOf(bottom), 1.6f));
}

/// The stylus came out of the lacquer, or never went in: its path, dashed.
void addLifted(std::vector<DrawnShape>& shapes, const Scene& scene, std::size_t turn, const PointRun& run) {
    const auto path = pathOf(scene.lineOf(run, [&](std::size_t p) { return scene.plan.bottom(turn, p); }));
    shapes.push_back({dashed(path, 2.5f, 3, 6), colour(palette::fault)});
}

void addHatch(juce::Path& path, const Line& one, const Line& other) {
    for (auto x = one.front().x + 1; x + hatchSlant < one.back().x; x += hatchStep)
        path.addLineSegment({{x, yAt(one, x)}, {x + hatchSlant, yAt(other, x + hatchSlant)}}, 1.3f);
}

/// Where a turn has met the one before.
void addOvercut(std::vector<DrawnShape>& shapes, const Scene& scene, std::size_t turn, const PointRun& run) {
    const auto& plan = scene.plan;
    auto outer = scene.lineOf(run, [&](std::size_t p) { return plan.outerEdge(turn, p); });
    auto inner = scene.lineOf(run, [&](std::size_t p) { return plan.innerEdge(turn - 1, p); });
    if (const auto tip =
            run.first > 0 ? cut::tipOfOvercut(plan, turn, run.first, run.first - 1) : std::nullopt)
        for (auto* line : {&outer, &inner})
            line->insert(line->begin(), scene.at(*tip));
    if (const auto tip =
            run.end < scene.patch.points ? cut::tipOfOvercut(plan, turn, run.end - 1, run.end) : std::nullopt)
        for (auto* line : {&outer, &inner})
            line->push_back(scene.at(*tip));
    if (outer.size() < 2 || inner.size() < 2)
        return;
    const auto area = areaBetween(outer, inner);
    juce::Path hatch;
    addHatch(hatch, outer, inner);
    shapes.push_back({area, colour(palette::fault)});
    shapes.push_back({hatch, colour(palette::bottom)});
    shapes.push_back({stroked(area, 2.2f), colour(palette::bottom)});
}

/// How far out each turn may come, dashed: the set land in from the inner edge of the one before.
void addSetLand(std::vector<DrawnShape>& shapes, const Scene& scene, double landSet_um) {
    juce::Path border, dashes;
    for (std::size_t turn = 0; turn + 1 < scene.patch.turns.size(); ++turn) {
        const auto& edges = scene.patch.turns[turn].edges;
        const auto placeOf = [&](std::size_t point) {
            return scene.plan.at(point, static_cast<double>(edges[point].inner_um) - landSet_um);
        };
        for (const auto& run : cut::runsOf(scene.shown, [&](auto p) { return scene.isGroove(turn, p); })) {
            const auto path = pathOf(scene.lineOf(run, placeOf));
            border.addPath(dashed(path, 3.2f, 7, 5));
            dashes.addPath(dashed(path, 1.4f, 7, 5));
        }
    }
    shapes.push_back({border, colour(palette::bottom)});
    shapes.push_back({dashes, colour(palette::caution)});
}

/// The stylus' face across the groove.
void addStylus(std::vector<DrawnShape>& shapes, const Scene& scene) {
    const auto turn = *scene.plan.placeTurn(), point = scene.plan.placePoint();
    const juce::Line<float> face(scene.at(scene.plan.outerEdge(turn, point)),
                                 scene.at(scene.plan.innerEdge(turn, point)));
    juce::Path edge, line;
    edge.addLineSegment(face, 6);
    line.addLineSegment(face, 3);
    shapes.push_back({edge, colour(palette::bottom)});
    shapes.push_back({line, colour(palette::good)});
}

std::vector<DrawnShape> shapesOf(const Scene& scene, double landSet_um) {
    std::vector<DrawnShape> shapes;
    const auto turns = scene.patch.turns.size();
    Grooves grooves;
    for (std::size_t turn = 0; turn < turns; ++turn)
        for (const auto& run : cut::runsOf(scene.shown, [&](auto p) { return scene.isGroove(turn, p); }))
            addGroove(grooves, scene, turn, run);
    shapes.push_back({grooves.lit, colour(palette::wallLit)});
    shapes.push_back({grooves.dark, colour(palette::wallDark)});
    shapes.push_back({grooves.bottoms, colour(palette::bottom)});
    for (std::size_t turn = 0; turn < turns; ++turn)
        for (const auto& run : cut::runsOf(scene.shown, [&](auto p) { return scene.isLifted(turn, p); }))
            addLifted(shapes, scene, turn, run);
    for (std::size_t turn = 1; turn < turns; ++turn)
        for (const auto& run : cut::runsOf(scene.shown, [&](auto p) { return scene.isMet(turn, p); }))
            addOvercut(shapes, scene, turn, run);
    if (landSet_um > 0)
        addSetLand(shapes, scene, landSet_um);
    if (scene.endsAtPlace())
        addStylus(shapes, scene);
    return shapes;
}

// --- The dimension of the narrowest land

std::string landWords(double land_um, Units units) {
    return land_um < 0 ? "overcut by " + shortLength(-land_um, units)
                       : "least land " + shortLength(land_um, units);
}

/// Below the set land by more than planning leaves open.
bool isThin(double land_um, double landSet_um) {
    return land_um < landSet_um - cut::planTolerance_um;
}

void addDimensionLine(std::vector<DrawnShape>& shapes, juce::Point<float> one, juce::Point<float> other) {
    const auto x = (one.x + other.x) / 2;
    const auto upper = std::min(one.y, other.y), lower = std::max(one.y, other.y);
    const auto isInside = lower - upper >= insideMin;
    juce::Path strokes, halo, heads;
    const auto add = [&](juce::Line<float> line) {
        strokes.addLineSegment(line, 1.6f);
        halo.addLineSegment(line.withLengthenedStart(1.5f).withShortenedEnd(-1.5f), 4.6f);
    };
    for (const auto y : {upper, lower})
        add({x - 6, y, x + 6, y});
    if (isInside)
        add({x, upper, x, lower});
    else {
        add({x, upper - tail, x, upper});
        add({x, lower, x, lower + tail});
    }
    const auto up = isInside ? -1.0f : 1.0f;
    heads.addPath(triangle({x, upper}, {0, up}, headLength, headHalf));
    heads.addPath(triangle({x, lower}, {0, -up}, headLength, headHalf));
    halo.addPath(stroked(heads, 2));
    shapes.push_back({halo, colour(palette::bottom)});
    shapes.push_back({strokes, colour(palette::text)});
    shapes.push_back({heads, colour(palette::text)});
}

/// Beside the line, away from the place if there is room; within the view. Of a line too short for its arrows it stands
/// beside one of them, so that the land itself stays to be seen.
juce::Rectangle<float> plateFor(juce::Point<float> from, juce::Point<float> to, float width,
                                const juce::Rectangle<float>& view) {
    const auto x = (from.x + to.x) / 2;
    const auto upper = std::min(from.y, to.y), lower = std::max(from.y, to.y);
    auto top = (upper + lower - plateHeight) / 2;
    if (lower - upper < insideMin)
        top = lower + 3 + plateHeight < view.getBottom() ? lower + 3 : upper - 3 - plateHeight;
    const auto isLeft = x < view.getCentreX();
    const auto left = x - plateGap - width, right = x + plateGap;
    const auto leftFits = left > view.getX() + 2, rightFits = right + width < view.getRight() - 2;
    return juce::Rectangle<float>((isLeft ? leftFits : !rightFits) ? left : right, top, width, plateHeight)
        .constrainedWithin(view.reduced(2));
}

// --- Words

std::string betweenTurns(const Scene& scene, const PatchMeasure& land) {
    const auto turn = scene.patch.turns[land.turn].turn;
    return "between the turns " + turnText(turn - 1) + " and " + turnText(turn);
}

/// What is to be known first, in fewer and fewer words.
std::vector<std::string> findings(const Scene& scene, const std::optional<PatchMeasure>& land,
                                  double landSet_um, Units units) {
    const auto lifted = scene.isAnythingLifted();
    if (land && land->value_um < 0) {
        const auto by = "Overcut by " + shortLength(-land->value_um, units);
        return {by + " " + betweenTurns(scene, *land), by};
    }
    if (lifted)
        return {"Lifted: here the stylus was out of the lacquer", "Lifted: out of the lacquer", "Lifted"};
    if (!land)
        return scene.isAnythingCut()
                   ? std::vector<std::string>{"No two turns side by side here, and so no land",
                                              "No land here"}
                   : std::vector<std::string>{"Nothing was cut here"};
    const auto figure = shortLength(land->value_um, units);
    if (isThin(land->value_um, landSet_um))
        return {"Thin land " + figure + " " + betweenTurns(scene, *land), "Thin land " + figure};
    return {"Least land " + figure + " " + betweenTurns(scene, *land), "Least land " + figure};
}

juce::Colour findingColour(const Scene& scene, const std::optional<PatchMeasure>& land, double landSet_um) {
    if ((land && land->value_um < 0) || scene.isAnythingLifted())
        return colour(palette::fault);
    return colour(land && isThin(land->value_um, landSet_um) ? palette::caution : palette::text);
}

/// Beside the view, where a turn's bottom comes in from the left; those that would touch another are left out, the place's
/// turn never.
void addTurnNames(std::vector<DrawnText>& words, const Scene& scene) {
    const auto view = scene.view();
    std::vector<std::pair<int, float>> found;
    for (std::size_t turn = 0; turn < scene.patch.turns.size(); ++turn)
        for (auto point = scene.shown.first; point < scene.shown.end; ++point)
            if (const auto bottom = scene.plan.bottom(turn, point); scene.scale.field().holds(bottom)) {
                found.emplace_back(scene.patch.turns[turn].turn, static_cast<float>(scene.scale.y(bottom)));
                break;
            }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return std::abs(a.first) < std::abs(b.first); });
    std::vector<float> taken;
    for (const auto& [turn, y] : found) {
        const auto middle =
            std::clamp(y, view.getY() + grooveSmallLetters / 2, view.getBottom() - grooveSmallLetters / 2);
        if (std::any_of(taken.begin(), taken.end(),
                        [&](float other) { return std::abs(other - middle) < grooveSmallLetters + 2; }))
            continue;
        taken.push_back(middle);
        words.push_back({toJuce("turn " + turnText(turn)),
                         {view.getX() - turnColumn, middle - 7, turnColumn - 5, 14},
                         grooveSmallLetters,
                         colour(turn == 0 ? palette::text : palette::quiet),
                         juce::Justification::centredRight,
                         turn == 0});
    }
}

/// Triangles above and below the view that point at the place.
void addPlaceMarks(std::vector<DrawnShape>& shapes, const Scene& scene) {
    const auto view = scene.view();
    const auto x = static_cast<float>(scene.scale.alongZero_px);
    juce::Path marks;
    marks.addPath(triangle({x, view.getY() - 1}, {0, 1}, 1.6f * markHalf, markHalf));
    marks.addPath(triangle({x, view.getBottom() + 1}, {0, -1}, 1.6f * markHalf, markHalf));
    shapes.push_back({marks, colour(palette::text)});
}

/// Under the view at the left, with its length.
void addScaleBar(std::vector<DrawnShape>& shapes, std::vector<DrawnText>& words, const Scene& scene,
                 Units units, juce::Rectangle<float>& strip) {
    const auto unit_um = units == Units::metric ? 1.0 : 25.4;
    const auto px = scene.scale.px_per_um * unit_um;
    const auto length = cut::roundLength_um(px, std::min(scaleBarMost, strip.getWidth() * 0.4f));
    const auto length_px = static_cast<float>(length * px);
    const auto area = strip.removeFromLeft(length_px);
    juce::Path bar;
    bar.addRectangle(area.withSizeKeepingCentre(length_px, scaleBarHeight));
    for (const auto x : {area.getX(), area.getRight() - 1.6f})
        bar.addRectangle(x, area.getCentreY() - 6, 1.6f, 12);
    shapes.push_back({bar, colour(palette::text)});
    strip.removeFromLeft(6);
    const auto text = toJuce(shortLength(length * unit_um, units, 0));
    words.push_back({text, strip.removeFromLeft(widthOf(text, grooveSmallLetters)), grooveSmallLetters,
                     colour(palette::text)});
    strip.removeFromLeft(14);
}

/// Under the view at the right, as far as there is room: which way is which.
void addDirections(std::vector<DrawnShape>& shapes, std::vector<DrawnText>& words,
                   juce::Rectangle<float> strip) {
    const auto add = [&](const char* name, juce::Point<float> way) {
        const auto text = toJuce(name);
        const auto width = widthOf(text, grooveSmallLetters);
        constexpr float arrow = 22, gap = 14;
        if (strip.getWidth() < width + arrow + gap)
            return;
        words.push_back({text, strip.removeFromRight(width), grooveSmallLetters, colour(palette::quiet)});
        const auto middle = strip.removeFromRight(arrow).getCentre();
        juce::Path path;
        const auto half = way * 8.0f;
        path.addLineSegment({middle - half, middle + half * 0.5f}, 1.6f);
        path.addPath(triangle(middle + half, way, headLength, headHalf));
        shapes.push_back({path, colour(palette::quiet)});
        strip.removeFromRight(gap);
    };
    add("way of the cut", {1, 0});
    add("disc's edge", {0, 1});
}

} // namespace

GrooveWindow::GrooveWindow() {
    setComponentID("groove");
    setInterceptsMouseClicks(false, false);
    layOut(false);
}

void GrooveWindow::show(const GrooveSight& wanted, Units wantedUnits) {
    if (wantedUnits == units && isSame(wanted, sight))
        return;
    const auto hold = wanted.heading == sight.heading;
    sight = wanted;
    units = wantedUnits;
    layOut(hold);
    repaint();
}

void GrooveWindow::resized() {
    layOut(false);
}

void GrooveWindow::layOut(bool holdScale) {
    const auto held_px_per_um = holdScale && fitted ? fitted->px_per_um : 0.0;
    fitted.reset();
    inView.clear();
    over.clear();
    words.clear();
    auto area = getLocalBounds().toFloat().reduced(grooveMargin);
    if (area.getWidth() < 2 * turnColumn || area.getHeight() < 4 * headLine)
        return; // not laid out yet
    layOutHeading(area);
    if (!sight.patch)
        return layOutNothing(area);
    layOutPatch(area, held_px_per_um);
}

/// Whole: in two lines where it is long.
void GrooveWindow::layOutHeading(juce::Rectangle<float>& area) {
    const auto text = toJuce(sight.heading);
    setTitle(text);
    const auto height =
        widthOf(text, grooveLetters, true) <= area.getWidth() ? grooveLetters : grooveSmallLetters;
    for (const auto& line : linesOf(text, area.getWidth() - 4, height))
        words.push_back({line, area.removeFromTop(headLine), height, colour(palette::text),
                         juce::Justification::centredLeft, height == grooveLetters});
}

void GrooveWindow::layOutNothing(juce::Rectangle<float> area) {
    const auto text = toJuce(sight.none);
    setDescription(text);
    const auto lines = linesOf(text, area.getWidth() - 16, grooveLetters);
    auto block = area.withSizeKeepingCentre(area.getWidth(), headLine * static_cast<float>(lines.size()));
    for (const auto& line : lines)
        words.push_back({line, block.removeFromTop(headLine), grooveLetters, colour(palette::quiet),
                         juce::Justification::centred});
}

void GrooveWindow::layOutPatch(juce::Rectangle<float> area, double held_px_per_um) {
    const auto head = area.removeFromTop(headLine);
    auto strip = area.removeFromBottom(stripHeight);
    area.removeFromTop(2 * markHalf);
    area.removeFromBottom(2 * markHalf);
    strip.removeFromLeft(turnColumn);
    area.removeFromLeft(turnColumn);
    const auto& patch = *sight.patch;
    const cut::PatchPlan plan(patch);
    auto fit = fitFor(patch, area);
    fit.held_px_per_um = held_px_per_um;
    fitted = cut::fitScale(plan, patch, fit);
    const Scene scene{patch, plan, *fitted, cut::pointsInView(plan, patch, *fitted)};
    const auto land = scene.narrowest();
    inView = shapesOf(scene, sight.landSet_um);
    addTurnNames(words, scene);
    addPlaceMarks(over, scene);
    addScaleBar(over, words, scene, units, strip);
    addDirections(over, words, strip);
    if (land)
        layOutLand(scene.at(plan.innerEdge(land->turn - 1, land->point)),
                   scene.at(plan.outerEdge(land->turn, land->point)), land->value_um, scene.view());
    const auto found = findings(scene, land, sight.landSet_um, units);
    layOutFindings(head, found, findingColour(scene, land, sight.landSet_um));
    setDescription(
        toJuce("Turns in plan, to scale, the way of the cut to the right and the disc's edge below. "
               + found.front() + "; set land " + shortLength(sight.landSet_um, units) + "."));
}

void GrooveWindow::layOutLand(juce::Point<float> from, juce::Point<float> to, double land_um,
                              const juce::Rectangle<float>& view) {
    addDimensionLine(inView, from, to);
    const auto figure = shortLength(std::abs(land_um), units);
    const auto text = toJuce(firstThatFits({landWords(land_um, units), figure}, view.getWidth() * 0.35f, 13));
    const auto plate = plateFor(from, to, widthOf(text, 13, true) + 10, view);
    juce::Path ground, border;
    ground.addRoundedRectangle(plate, 3);
    over.push_back({ground, colour(palette::bottom)});
    over.push_back({stroked(ground, 1.2f), colour(land_um < 0                         ? palette::fault
                                                  : isThin(land_um, sight.landSet_um) ? palette::caution
                                                                                      : palette::quiet)});
    words.push_back({text, plate, 13, colour(palette::text), juce::Justification::centred, true});
}

/// What was found at the left; at the right the set land with a piece of its line.
void GrooveWindow::layOutFindings(juce::Rectangle<float> area, const std::vector<std::string>& findings,
                                  juce::Colour paint) {
    constexpr float sample = 26, gap = 6;
    const auto set = shortLength(sight.landSet_um, units);
    const auto least = widthOf(toJuce(findings.back()), grooveLetters, true);
    const auto text = toJuce(firstThatFits({"set land " + set, "set " + set, set},
                                           area.getWidth() - least - sample - 2 * gap, grooveLetters));
    if (sight.landSet_um > 0) {
        words.push_back({text, area.removeFromRight(widthOf(text, grooveLetters)), grooveLetters,
                         colour(palette::caution)});
        area.removeFromRight(gap);
        juce::Path path;
        const auto line = area.removeFromRight(sample);
        path.startNewSubPath(line.getX(), line.getCentreY());
        path.lineTo(line.getRight(), line.getCentreY());
        over.push_back({dashed(path, 1.6f, 7, 5), colour(palette::caution)});
        area.removeFromRight(gap);
    }
    words.push_back({toJuce(firstThatFits(findings, area.getWidth(), grooveLetters, true)), area,
                     grooveLetters, paint, juce::Justification::centredLeft, true});
}

void GrooveWindow::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), grooveCorner);
    if (fitted) {
        const auto& v = fitted->view;
        const auto view =
            juce::Rectangle<double>::leftTopRightBottom(v.left, v.top, v.right, v.bottom).toFloat();
        g.setColour(colour(palette::land));
        g.fillRect(view);
        {
            const juce::Graphics::ScopedSaveState whole(g);
            g.reduceClipRegion(view.getSmallestIntegerContainer());
            draw(g, inView);
        }
        g.setColour(colour(palette::line));
        g.drawRect(view.expanded(1), 1);
    }
    draw(g, over);
    draw(g, words);
}

std::unique_ptr<juce::AccessibilityHandler> GrooveWindow::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::image);
}

} // namespace headland::editor
