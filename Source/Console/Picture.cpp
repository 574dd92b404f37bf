// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/Picture.h"

#include "Console/FlagLanes.h"
#include "Console/Panel.h"
#include "Console/PictureColours.h"
#include "Console/PictureTitle.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>

namespace headland::console {

using text::diameterText;
using text::fixed;
using text::linesPerInch;
using text::minutesSeconds;
using text::plain;
using text::sideLength;

namespace {

constexpr double left_px = scaleRoom_px;
constexpr double firstPanel_px = 150;
constexpr double lastEdge_px = pictureHeight_px - 52.0; ///< the time scale stands below it
constexpr int timeTicksMax = 16;
constexpr double lineStep_px = 4;           ///< between the points of a line, at least
constexpr double leadOutShown_turns = 1;    ///< at least
constexpr double leadOutShown_share = 0.05; ///< of the program's length, at least
constexpr double turnStep_px = 16;          ///< a turn narrower than this is one point of a line
constexpr std::size_t spoiltPlacesMax = 40; ///< marked across all panels

constexpr std::string_view offProgramColour = "#ebebeb";

constexpr Paint cutPaint{.stroke = blue, .strokeWidth = 1.4};
constexpr Paint rangePaint{.fill = skyBlue, .fillOpacity = 0.55};
constexpr Paint commandPaint{.stroke = orange, .strokeWidth = 4};
constexpr Paint demandPaint{.fill = grey, .fillOpacity = 0.45};
constexpr Paint estimatePaint{.stroke = green, .strokeWidth = 1.2, .dashes = "3 3"};

/// Greatest and least of one series over all bins; nothing if it has no values.
SeriesRange wholeRange(PictureBins bins, Series series) {
    SeriesRange whole;
    for (const auto& bin : bins)
        whole.merge(rangeOf(bin, series));
    return whole;
}

/// The picture's place to place: what every panel shares.
struct Layout {
    ChartScale time;
    std::vector<double> ticks_s;
    double pitchTop = 0, depthTop = 0, landTop = 0, diameterTop = 0, lanesTop = 0;
    double pitchHeight = 0, smallHeight = 0, lanesHeight = 0;

    Panel panel(double top, double height, double least, double greatest) const {
        return {time, {least, greatest, top + height, top}};
    }
};

/// Where the time scale ends: the lead-out of a short side takes longer than its program and is not drawn whole, except
/// as far as something in it is flagged.
double lastTime_s(const PictureContent& content) {
    const auto program_s = content.summary.sideLength_s;
    auto end_s =
        program_s + std::max(leadOutShown_turns * content.settings.turn_s(), leadOutShown_share * program_s);
    for (const auto& bin : content.bins)
        if (bin.marks != 0)
            end_s = std::max(end_s, bin.end);
    return content.bins.empty() ? end_s : std::min(end_s, content.bins.back().end);
}

Layout layOut(const PictureContent& content) {
    Layout layout;
    const auto start_s = content.bins.empty() ? 0.0 : content.bins.front().start;
    const auto end_s = lastTime_s(content);
    layout.time = {start_s, end_s, left_px, right_px};
    layout.ticks_s = timeTicks(start_s, end_s, timeTicksMax);
    layout.lanesHeight = std::max(1, laneCount(content.summary)) * laneHeight_px;
    const auto room = lastEdge_px - layout.lanesHeight - firstPanel_px - 4 * headingRoom_px;
    layout.smallHeight = std::floor(room * 0.2);
    layout.pitchHeight = room - 3 * layout.smallHeight;
    layout.pitchTop = firstPanel_px;
    layout.depthTop = layout.pitchTop + layout.pitchHeight + headingRoom_px;
    layout.landTop = layout.depthTop + layout.smallHeight + headingRoom_px;
    layout.diameterTop = layout.landTop + layout.smallHeight + headingRoom_px;
    layout.lanesTop = layout.diameterTop + layout.smallHeight + headingRoom_px;
    return layout;
}

PictureTitle titleOf(const PictureContent& content) {
    const auto& summary = content.summary;
    return {content.fileName,
            std::string(content.settings.discFormat().name) + "; program " + sideLength(summary.sideLength_s)
                + ", " + fixed(summary.turns, 1) + " turns, diameter from "
                + diameterText(summary.startDiameter_mm) + " to " + diameterText(summary.endDiameter_mm)
                + "; the pitch travels " + fixed(summary.pitchTravel_um, 1) + " µm a turn; disc level "
                + fixed(content.settings.disc_level_db, 1) + " dB",
            summary.verdictLine()};
}

/// The bins as the points of a line. Pitch comes and goes within a turn: a point for each turn says more than several,
/// as long as turns are narrow.
std::vector<PictureSeries::Decimator::Bin> forLines(const Panel& panel, const PictureContent& content) {
    const auto turn_px = panel.across(panel.across.least + content.settings.turn_s()) - panel.left();
    return widened(panel, content.bins, turn_px < turnStep_px ? std::max(turn_px, lineStep_px) : lineStep_px);
}

/// A stretch of time that is not program.
struct OffProgram {
    double from_s, to_s;
    std::string name;
};

/// Greys it.
void drawShade(SvgDrawing& drawing, const Panel& panel, const OffProgram& part) {
    const auto x1 = panel.across(part.from_s), x2 = panel.across(part.to_s);
    if (x2 - x1 >= 1)
        drawing.rectangle(x1, panel.top(), x2 - x1, panel.bottom() - panel.top(), {.fill = offProgramColour});
}

/// Says what it is, over the grid, where there is room to.
void drawName(SvgDrawing& drawing, const Panel& panel, const OffProgram& part) {
    const auto x1 = panel.across(part.from_s), x2 = panel.across(part.to_s);
    const auto width = textWidth_px(part.name, label_px);
    if (x2 - x1 < width + 4)
        return;
    const auto middle = (x1 + x2) / 2, baseline = panel.top() + 18;
    drawing.rectangle(middle - width / 2, baseline - label_px, width, label_px + 4,
                      {.fill = offProgramColour});
    drawing.text(middle, baseline, part.name, {.size_px = label_px, .anchor = "middle"});
}

void drawGround(SvgDrawing& drawing, const Panel& panel, const PictureContent& content, const Layout& layout,
                const std::vector<double>& valueTicks) {
    const OffProgram parts[]{{layout.time.least, 0, "lead-in"},
                             {content.summary.sideLength_s, layout.time.greatest, "lead-out"}};
    for (const auto& part : parts)
        drawShade(drawing, panel, part);
    drawFrame(drawing, panel, layout.ticks_s, valueTicks);
    for (const auto& part : parts)
        drawName(drawing, panel, part);
    drawSpoiltPlaces(drawing, panel, content.bins, spoiltPlacesMax);
}

/// The pitch panel's right-hand scale, in lines per inch.
void drawLinesPerInch(SvgDrawing& drawing, const Panel& panel, const std::vector<double>& pitchTicks_um) {
    for (const auto tick_um : pitchTicks_um)
        if (tick_um > 0)
            drawing.text(panel.right() + 8, panel.value(tick_um) + 0.35 * label_px,
                         linesPerInch(tick_um) + " lpi", {.size_px = label_px});
}

void drawPitch(SvgDrawing& drawing, const PictureContent& content, const Layout& layout) {
    const auto cut_um = wholeRange(content.bins, Series::pitch).greatest;
    const auto demand_um = wholeRange(content.bins, Series::demand).greatest;
    // A demand no lathe can meet would flatten everything else: the scale ends a little above the greatest pitch.
    const auto greatest_um = std::max(cut_um, std::min(demand_um, content.settings.pitch_max_um));
    const auto scale_um = greatest_um > 0 ? greatest_um : content.settings.pitch_max_um; // no program at all
    const auto panel = layout.panel(layout.pitchTop, layout.pitchHeight, 0, 1.06 * scale_um);
    const auto ticks = roundTicks(0, panel.value.greatest, 9);
    drawGround(drawing, panel, content, layout, ticks);
    drawLinesPerInch(drawing, panel, ticks);
    const auto wide = forLines(panel, content);
    drawRange(drawing, panel, content.bins, Series::pitch, rangePaint);
    drawArea(drawing, panel, content.bins, Series::demand, demandPaint);
    drawMean(drawing, panel, wide, Series::pitchCommand, commandPaint);
    drawMean(drawing, panel, wide, Series::pitch, cutPaint);
    const auto demandLabel = demand_um > panel.value.greatest
                                 ? "spacing demanded, up to " + fixed(demand_um, 0) + " µm (above the scale)"
                                 : std::string("spacing demanded");
    drawHeading(drawing, panel, "pitch, µm per turn (right: lines per inch)",
                {{demandLabel, demandPaint, true},
                 {"as cut, least to greatest", rangePaint, true},
                 {"commanded, mean", commandPaint},
                 {"as cut, mean", cutPaint}});
}

void drawDepth(SvgDrawing& drawing, const PictureContent& content, const Layout& layout) {
    auto range = wholeRange(content.bins, Series::depth);
    range.merge(wholeRange(content.bins, Series::depthCommand));
    const auto scale_um = range.greatest > 0 ? range.greatest : content.settings.depth_max_um;
    const auto panel = layout.panel(layout.depthTop, layout.smallHeight, 0, 1.1 * scale_um);
    drawGround(drawing, panel, content, layout, roundTicks(0, panel.value.greatest, 5));
    const auto wide = forLines(panel, content);
    drawRange(drawing, panel, content.bins, Series::depth, rangePaint);
    drawMean(drawing, panel, wide, Series::depthCommand, commandPaint);
    drawMean(drawing, panel, wide, Series::depth, cutPaint);
    drawHeading(drawing, panel, "depth, µm",
                {{"as cut, least to greatest", rangePaint, true},
                 {"commanded, mean", commandPaint},
                 {"as cut, mean", cutPaint}});
}

void drawLand(SvgDrawing& drawing, const PictureContent& content, const Layout& layout) {
    const auto set_um = content.settings.land_min_um;
    // What matters is near and below the set land; wide land is drawn along the upper edge.
    const auto greatest_um = std::max(50.0, 4 * set_um);
    const auto least_um = std::min(0.0, 1.1 * wholeRange(content.bins, Series::land).least);
    const auto panel = layout.panel(layout.landTop, layout.smallHeight, least_um, greatest_um);
    drawGround(drawing, panel, content, layout, roundTicks(least_um, greatest_um, 5));
    drawLevel(drawing, panel, 0, zeroPaint);
    drawLevel(drawing, panel, set_um, limitPaint);
    drawLeast(drawing, panel, forLines(panel, content), Series::land, cutPaint);
    drawHeading(drawing, panel, "least land, µm (more than " + fixed(greatest_um, 0) + " at the upper edge)",
                {{"set land, " + plain(set_um) + " µm", limitPaint},
                 {"zero: below it, overcut", zeroPaint},
                 {"as cut", cutPaint}});
}

void drawDiameter(SvgDrawing& drawing, const PictureContent& content, const Layout& layout) {
    const auto limit_mm = 2 * content.settings.end_radius_mm;
    const auto least_mm = std::clamp(content.summary.endDiameter_mm, 0.0, limit_mm); // a disc has no more
    const auto margin_mm = 0.08 * (content.summary.startDiameter_mm - least_mm);
    const auto panel =
        layout.panel(layout.diameterTop, layout.smallHeight, std::max(0.0, least_mm - margin_mm),
                     content.summary.startDiameter_mm + margin_mm);
    drawGround(drawing, panel, content, layout, roundTicks(panel.value.least, panel.value.greatest, 5));
    drawLevel(drawing, panel, limit_mm, limitPaint);
    drawMean(drawing, panel, content.bins, Series::endDiameter, estimatePaint);
    drawMean(drawing, panel, content.bins, Series::diameter, cutPaint);
    drawHeading(drawing, panel, "groove diameter, mm",
                {{"innermost allowed, " + plain(limit_mm) + " mm", limitPaint},
                 {"end of program as estimated on the way", estimatePaint},
                 {"as cut", cutPaint}});
}

void drawLanes(SvgDrawing& drawing, const PictureContent& content, const Layout& layout) {
    const auto panel = layout.panel(layout.lanesTop, layout.lanesHeight, 0, 1);
    const auto none = laneCount(content.summary) == 0;
    drawFrame(drawing, panel, layout.ticks_s, {});
    drawFlagLanes(drawing, panel, content.bins, content.summary);
    drawHeading(drawing, panel, none ? "flagged passages: none" : "flagged passages", {});
}

void drawTimeScale(SvgDrawing& drawing, const Layout& layout) {
    const auto baseline = lastEdge_px + 20;
    for (const auto tick_s : layout.ticks_s)
        drawing.text(layout.time(tick_s), baseline, minutesSeconds(tick_s),
                     {.size_px = label_px, .anchor = "middle"});
    drawing.text((left_px + right_px) / 2, baseline + 21, "program time at the stylus, min:s",
                 {.size_px = 15, .anchor = "middle", .bold = true});
}

} // namespace

SvgDrawing drawPicture(const PictureContent& content) {
    SvgDrawing drawing(pictureWidth_px, pictureHeight_px);
    const auto layout = layOut(content);
    drawTitle(drawing, left_px, right_px, titleOf(content));
    drawPitch(drawing, content, layout);
    drawDepth(drawing, content, layout);
    drawLand(drawing, content, layout);
    drawDiameter(drawing, content, layout);
    drawLanes(drawing, content, layout);
    drawTimeScale(drawing, layout);
    return drawing;
}

} // namespace headland::console
