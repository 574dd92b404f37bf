// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/ApproachStrip.h"

#include "Cut/Spoils.h"
#include "Editor/Look.h"
#include "Editor/PixelImage.h"
#include "Editor/Scale.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>

namespace headland::editor {

namespace {

constexpr float stripHeadHeight = 20, stripFootHeight = 16, stripAxisWidth = 62, stripMargin = 6, laneGap = 6,
                stripLetters = 13;
constexpr double pastShare = 0.5; ///< of the plot that is left of the cutting line
constexpr double aheadOverPreview = 1.2;
constexpr double leastAhead_s = 1;
constexpr float spacingShare = 0.62f; ///< of the plot's height

/// Where things are, in the component's own measure.
struct Layout {
    juce::Rectangle<float> head, spacing, groove, foot;

    explicit Layout(juce::Rectangle<float> area) {
        area = area.reduced(stripMargin, 2);
        head = area.removeFromTop(stripHeadHeight);
        foot = area.removeFromBottom(stripFootHeight).withTrimmedLeft(stripAxisWidth);
        area.removeFromLeft(stripAxisWidth);
        spacing = area.removeFromTop(area.getHeight() * spacingShare);
        area.removeFromTop(laneGap);
        groove = area;
    }
    juce::Rectangle<float> plot() const { return spacing.getUnion(groove); }
};

double ahead_s(const StripSight& sight) {
    return std::max(leastAhead_s, aheadOverPreview * sight.settings.preview_s);
}

double shown_s(const StripSight& sight) {
    return ahead_s(sight) / (1 - pastShare);
}

double least_s(const StripSight& sight) {
    return sight.place_s - pastShare * shown_s(sight);
}

/// Draws columns of the grid as upright strokes, a column a pixel of the picture, straight into its memory: through a context
/// every stroke would be clipped and converted by itself, thousands of times a picture.
class Plot {
public:
    Plot(juce::Image& picture, const StripGrid& g, const std::vector<StripColumn>& c, float pixelsPerPoint)
        : pixels(picture, juce::Image::BitmapData::readWrite), grid(g), columns(c), scale(pixelsPerPoint) {}

    void spacing(juce::Rectangle<float> area, double most_um) {
        bottom = area.getBottom();
        perMicrometre = area.getHeight() / static_cast<float>(most_um);
        eachColumn([&](int i, const StripColumn& column) {
            if (!(column.demand_um > 0))
                return;
            const auto demand = y(column.demand_um), made = y(column.made_um);
            fill(i, demand, bottom, palette::demand);
            if (made < demand)
                fill(i, made, demand, palette::spare);
            else if (column.short_um > 0)
                fill(i, demand, made, palette::fault, (grid.first + i) % 3 != 0);
        });
        line(palette::quiet, 1, 0, [](const auto& column) { return column.command_um; });
        line(palette::text, 2, 3, [](const auto& column) { return column.pitch_um; });
        line(palette::good, 2, 6, [](const auto& column) { return column.made_um; });
        eachColumn([&](int i, const StripColumn& column) { flags(i, area.getY(), column.flags); });
    }

    /// Inward is up, as in the other pictures of the groove.
    void groove(juce::Rectangle<float> area, double most_um) {
        bottom = area.getCentreY();
        perMicrometre = area.getHeight() / 2 / static_cast<float>(most_um);
        eachColumn([&](int i, const StripColumn& column) {
            const auto depth = column.depth_um;
            fill(i, y(depth + column.innerSwing_um), y(-depth - column.outerSwing_um), palette::wallLit);
            fill(i, y(depth), y(-depth), palette::wallDark);
        });
        for (const auto sign : {1.0f, -1.0f}) {
            line(palette::text, 1.5f, 0, [sign](const auto& column) {
                return sign * (column.depth_um + (sign > 0 ? column.innerSwing_um : column.outerSwing_um));
            });
        }
        for (int i = 0; i < grid.count; ++i)
            fill(i, bottom - scale / 2, bottom + scale / 2, palette::ground);
    }

    /// The cutting line.
    void upright(float x, float width) {
        for (auto column = juce::roundToInt(x - width / 2); column < juce::roundToInt(x + width / 2);
             ++column)
            fill(column, 0, static_cast<float>(pixels.height), palette::text);
    }

private:
    template <typename Draw>
    void eachColumn(Draw draw) const {
        for (int i = 0; i < grid.count; ++i)
            if (const auto& column = columns[static_cast<std::size_t>(i)]; column.isThere())
                draw(i, column);
    }

    float y(float um) const { return bottom - um * perMicrometre; }

    /// From one height to another; where they lie within a pixel, as much of it as is covered.
    void fill(int column, float from, float to, std::uint32_t paint, bool drawn = true) {
        const auto top = std::max(0.0f, from), end = std::min(static_cast<float>(pixels.height), to);
        if (!drawn || column < 0 || column >= pixels.width || !(end > top))
            return;
        const auto source = colour(paint).getPixelARGB();
        const auto first = static_cast<int>(top), last = static_cast<int>(std::ceil(end)) - 1;
        for (auto y = first; y <= last; ++y) {
            auto& pixel = *reinterpret_cast<juce::PixelRGB*>(pixels.getPixelPointer(column, y));
            const auto covered =
                std::min(end, static_cast<float>(y + 1)) - std::max(top, static_cast<float>(y));
            if (covered >= 1)
                pixel.set(source);
            else
                pixel.blend(source, static_cast<juce::uint32>(256 * covered));
        }
    }

    /// A line over the columns; what lies ahead is broken every `dash` points; 0: it is not.
    template <typename Value>
    void line(std::uint32_t paint, float width, int dash, Value value) {
        const auto thick = width * scale;
        const auto dashLength = std::max<std::int64_t>(1, std::llround(static_cast<float>(dash) * scale));
        auto before = NAN;
        eachColumn([&](int i, const StripColumn& column) {
            const auto at = y(value(column));
            const auto from =
                i > 0 && columns[static_cast<std::size_t>(i) - 1].isThere() && !std::isnan(before) ? before
                                                                                                   : at;
            before = at;
            if (std::isnan(at) || (column.isAhead && dash > 0 && (grid.first + i) / dashLength % 2 != 0))
                return;
            fill(i, std::min(from, at) - thick / 2, std::max(from, at) + thick / 2, paint);
        });
    }

    /// A fault's mark is twice as high as a caution's.
    void flags(int column, float top, std::uint16_t flags) {
        if (flags == 0)
            return;
        const auto isFault = cut::spoils(flags);
        fill(column, top, top + (isFault ? 8 : 4) * scale, isFault ? palette::fault : palette::caution);
    }

    juce::Image::BitmapData pixels;
    const StripGrid& grid;
    const std::vector<StripColumn>& columns;
    float scale;
    float bottom = 0, perMicrometre = 1;
};

/// The greatest length that a lane must have room for, rounded up in the units shown.
template <typename Value>
double most_um(const std::vector<StripColumn>& columns, double least_um, Units units, Value value) {
    auto most = least_um;
    for (const auto& column : columns)
        if (const double um = value(column); um > most)
            most = um;
    const auto unit_um = unitOf(units);
    return unit_um * roundAbove(most / unit_um);
}

/// From nothing at the lane's foot to the greatest at its top.
void drawAxis(juce::Graphics& g, juce::Rectangle<float> lane, double most_um, Units units) {
    constexpr float markLeast = 22; // px from one label to the next
    const auto marks = std::max(2, static_cast<int>(lane.getHeight() / markLeast));
    const auto unit_um = unitOf(units);
    const auto step_um = unit_um * markStep(most_um / unit_um, marks);
    for (auto um = 0.0; um <= most_um * 1.001; um += step_um) {
        const auto y = lane.getBottom() - lane.getHeight() * static_cast<float>(um / most_um);
        g.setColour(colour(palette::line));
        g.fillRect(lane.getX() - 4, y - 0.5f, 4.0f, 1.0f);
        g.setColour(colour(palette::quiet));
        const auto box = juce::Rectangle<float>(lane.getX() - stripAxisWidth, y - 8, stripAxisWidth - 6, 16)
                             .constrainedWithin(lane.withX(lane.getX() - stripAxisWidth));
        drawWhole(g, toJuce(shortLength(um, units, 0)), box, stripLetters - 1,
                  juce::Justification::centredRight);
    }
}

/// As far above the centre line as below it.
void drawHalves(juce::Graphics& g, juce::Rectangle<float> lane, double half_um, Units units) {
    constexpr float height = 15;
    g.setColour(colour(palette::quiet));
    auto labels = lane.withX(lane.getX() - stripAxisWidth).withWidth(stripAxisWidth - 6);
    for (const auto& label : {labels.removeFromTop(height), labels.removeFromBottom(height)})
        drawWhole(g, toJuce(shortLength(half_um, units, 0)), label, stripLetters - 1,
                  juce::Justification::centredRight);
}

/// Seconds before and behind the cutting line.
void drawTimes(juce::Graphics& g, juce::Rectangle<float> foot, const StripSight& sight) {
    const auto step_s = markStep(shown_s(sight), 10);
    const auto perSecond = foot.getWidth() / shown_s(sight);
    const auto zero = foot.getX() + pastShare * foot.getWidth();
    const auto decimals = step_s < 1 ? 1 : 0;
    for (auto t = -std::floor(pastShare * shown_s(sight) / step_s) * step_s;
         t < (1 - pastShare) * shown_s(sight); t += step_s) {
        const auto x = static_cast<float>(zero + t * perSecond);
        g.setColour(colour(palette::line));
        g.fillRect(x - 0.5f, foot.getY(), 1.0f, 4.0f);
        if (std::abs(t) < step_s / 2)
            continue;
        g.setColour(colour(palette::quiet));
        const auto text = (t < 0 ? "-" : "+") + text::fixed(std::abs(t), decimals) + " s";
        drawWhole(g, toJuce(text), juce::Rectangle<float>(x - 30, foot.getY() + 2, 60, foot.getHeight() - 2),
                  stripLetters - 1, juce::Justification::centred);
    }
    g.setColour(colour(palette::text));
    const auto at = sight.isLive ? std::string("stylus") : text::minutesTenths(sight.place_s);
    drawWhole(
        g, toJuce(at),
        juce::Rectangle<float>(static_cast<float>(zero) - 40, foot.getY() + 2, 80, foot.getHeight() - 2),
        stripLetters - 1, juce::Justification::centred, true);
}

/// A line where something was marked or noted, and below it what.
void drawNotes(juce::Graphics& g, const Layout& layout, const StripSight& sight) {
    constexpr float most = 170, height = 17;
    if (sight.notes == nullptr)
        return;
    const auto plot = layout.plot();
    for (const auto& note : *sight.notes) {
        const auto share = (note.time_s - least_s(sight)) / shown_s(sight);
        if (!(share >= 0 && share <= 1))
            continue;
        const auto x = plot.getX() + static_cast<float>(share) * plot.getWidth();
        g.setColour(colour(palette::text));
        g.fillRect(x - 0.75f, plot.getY(), 1.5f, plot.getHeight());
        const auto words = toJuce(note.isMark() ? "mark" : "note: " + note.text);
        const auto width = std::min(most, juce::Font(stripLetters).getStringWidthFloat(words) + 8);
        auto box = juce::Rectangle<float>(x + 2, plot.getBottom() - height, width, height);
        if (box.getRight() > plot.getRight())
            box.setX(x - 2 - width);
        g.setColour(colour(palette::button));
        g.fillRect(box);
        g.setColour(colour(palette::text));
        g.setFont(stripLetters);
        g.drawText(words, box.reduced(4, 0), juce::Justification::centredLeft); // of a long one the beginning
    }
}

struct Key {
    const char* word;
    std::uint32_t paint;
    bool isLine;
};
constexpr std::array legend{Key{"demanded", palette::demand, false}, Key{"spacing made", palette::good, true},
                            Key{"pitch", palette::text, true}};

float drawLegend(juce::Graphics& g, juce::Rectangle<float> head) {
    const juce::Font font(stripLetters);
    for (auto key = legend.rbegin(); key != legend.rend(); ++key) {
        const auto word = head.removeFromRight(font.getStringWidthFloat(key->word) + 4);
        g.setColour(colour(palette::quiet));
        drawWhole(g, key->word, word, stripLetters, juce::Justification::centredRight);
        const auto box = head.removeFromRight(20).withSizeKeepingCentre(14, key->isLine ? 2.5f : 10.0f);
        g.setColour(colour(key->paint));
        g.fillRect(box);
        head.removeFromRight(8);
    }
    return head.getRight();
}

} // namespace

std::string stripHeadline(const StripSight& sight) {
    if (!sight.isLive)
        return "At " + text::minutesTenths(sight.place_s) + ": cut before on the left, after on the right";
    const auto coming = whatComes(sight);
    if (!coming)
        return sight.side == nullptr ? "Nothing is heard yet" : "Nothing more is heard";
    const auto in = [](double time_s) { return " in " + text::fixed(std::max(0.0, time_s), 1) + " s"; };
    if (std::isnan(coming->demand_um))
        return "Heard " + text::fixed(coming->heard_s, 1) + " s ahead of the stylus";
    return "Coming: spacing up to " + shortLength(coming->demand_um, sight.units, 0) + in(coming->demandIn_s)
           + "; "
           + (coming->shortfall_um > 0
                  ? "it will fall short by " + shortLength(coming->shortfall_um, sight.units)
                  : "least left over " + shortLength(coming->spare_um, sight.units) + in(coming->spareIn_s));
}

ApproachStrip::ApproachStrip() {
    setComponentID("approach");
    setOpaque(true); // so that nothing is painted below it
    setWantsKeyboardFocus(true);
    setTooltip(
        "Time runs from the right to the cutting line in the middle. Above: spacing demanded and made, and "
        "the pitch, "
        "all to one scale. Below: the groove's edges. Click, drag or arrow keys look at another place.");
}

void ApproachStrip::show(const StripSight& wanted) {
    sight = wanted;
    if (const auto words = stripHeadline(sight); words != headline) {
        headline = words;
        setTitle(toJuce("Approach. " + headline));
    }
    repaint();
}

void ApproachStrip::paint(juce::Graphics& g) {
    const Layout layout(getLocalBounds().toFloat());
    {
        const juce::Graphics::ScopedSaveState whole(g);
        g.excludeClipRegion(layout.plot().reduced(1).toNearestIntEdges());
        g.fillAll(colour(palette::panel));
    }
    const auto legendLeft = drawLegend(g, layout.head);
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(headline), layout.head.withRight(legendLeft - 8), 16,
              juce::Justification::centredLeft, true);

    const auto plot = layout.plot();
    const auto scale = g.getInternalContext().getPhysicalPixelScaleFactor();
    const auto width = std::max(1, juce::roundToInt(plot.getWidth() * scale));
    const auto height = std::max(1, juce::roundToInt(plot.getHeight() * scale));
    const auto column_s = shown_s(sight) / width;
    const auto first = std::floor(least_s(sight) / column_s);
    const StripGrid grid{column_s, static_cast<std::int64_t>(first), width + 1};
    const auto columns = stripColumns(sight, grid);
    const auto spacing_um = most_um(columns, sight.settings.pitch_min_um * 2, sight.units, [](const auto& c) {
        return static_cast<double>(std::fmax(std::fmax(c.demand_um, c.made_um), c.pitch_um));
    });
    const auto half_um = most_um(columns, sight.settings.depth_basic_um, sight.units, [](const auto& c) {
        return static_cast<double>(c.depth_um + std::fmax(c.outerSwing_um, c.innerSwing_um));
    });

    if (picture.getWidth() != width || picture.getHeight() != height)
        picture = juce::Image(juce::Image::RGB, width, height, false);
    const auto toPicture = [&](juce::Rectangle<float> lane) { return (lane - plot.getPosition()) * scale; };
    {
        juce::Graphics own(picture);
        const auto fill = [&](juce::Rectangle<float> lane,
                              std::uint32_t paint) { // whole pixels, none left as it was
            own.setColour(colour(paint));
            own.fillRect(toPicture(lane).getSmallestIntegerContainer());
        };
        fill(plot.withTop(layout.spacing.getBottom()).withBottom(layout.groove.getY()), palette::panel);
        for (const auto& lane : {layout.spacing, layout.groove}) {
            fill(lane, palette::ground);
            fill(lane.withTrimmedLeft(lane.getWidth() * static_cast<float>(pastShare)),
                 palette::heard); // another ground
        }
    }
    Plot drawn(picture, grid, columns, scale);
    drawn.spacing(toPicture(layout.spacing), spacing_um);
    drawn.groove(toPicture(layout.groove), half_um);
    drawn.upright(static_cast<float>(pastShare) * static_cast<float>(width), 2 * scale);
    drawPixels(g, picture, *this, plot.getPosition(), scale);
    drawAxis(g, layout.spacing, spacing_um, sight.units);
    drawHalves(g, layout.groove, half_um, sight.units);
    drawTimes(g, layout.foot, sight);
    drawNotes(g, layout, sight);
    if (hasKeyboardFocus(true))
        drawFocus(g, getLocalBounds().toFloat());
}

void ApproachStrip::mouseDown(const juce::MouseEvent& event) {
    const auto plot = Layout(getLocalBounds().toFloat()).plot();
    draggedFrom_s = sight.place_s;
    if (!onPlace || !plot.contains(event.position))
        return;
    const auto x = (event.position.x - plot.getX()) / plot.getWidth();
    draggedFrom_s = least_s(sight) + static_cast<double>(x) * shown_s(sight);
    onPlace(draggedFrom_s);
}

void ApproachStrip::mouseDrag(const juce::MouseEvent& event) {
    const auto plot = Layout(getLocalBounds().toFloat()).plot();
    if (onPlace && event.mouseWasDraggedSinceMouseDown())
        onPlace(draggedFrom_s
                - event.getDistanceFromDragStartX() / static_cast<double>(plot.getWidth()) * shown_s(sight));
}

bool ApproachStrip::keyPressed(const juce::KeyPress& key) {
    if (!onPlace)
        return false;
    const auto turn_s = sight.settings.turn_s();
    constexpr double partOfTurn = 1.0 / 16;
    const auto go = [this](double by_s) {
        onPlace(sight.place_s + by_s);
        return true;
    };
    if (key.isKeyCode(juce::KeyPress::leftKey))
        return go(-partOfTurn * turn_s);
    if (key.isKeyCode(juce::KeyPress::rightKey))
        return go(partOfTurn * turn_s);
    if (key.isKeyCode(juce::KeyPress::pageUpKey))
        return go(-turn_s);
    if (key.isKeyCode(juce::KeyPress::pageDownKey))
        return go(turn_s);
    return false;
}

std::unique_ptr<juce::AccessibilityHandler> ApproachStrip::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::image);
}

} // namespace headland::editor
