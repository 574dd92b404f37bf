// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/Panel.h"

#include "Text/Figures.h"

namespace headland::console {

using text::fixed;

namespace {

constexpr std::string_view gridColour = "#d9d9d9";
constexpr std::string_view frameColour = "#595959";
constexpr double tickLabel_px = 13;
constexpr double heading_px = 15;
constexpr double legend_px = 13;
constexpr double headingGap_px = 8; ///< between the heading's baseline and the panel
constexpr double sampleWidth_px = 26;

using Bin = PictureSeries::Decimator::Bin;

std::string point(const Panel& panel, double time_s, double value) {
    return coordinate(panel.across(time_s)) + " " + coordinate(panel.value(value));
}

double centre_s(const Bin& bin) noexcept {
    return (bin.start + bin.end) / 2;
}

/// Splits the bins where a series has no values and hands on each unbroken stretch.
template <typename Take>
void eachStretch(PictureBins bins, Series series, Take take) {
    std::size_t start = 0;
    for (std::size_t i = 0; i <= bins.size(); ++i) {
        if (i < bins.size() && !rangeOf(bins[i], series).empty())
            continue;
        if (i > start)
            take(bins.subspan(start, i - start));
        start = i + 1;
    }
}

/// A figure of one bin.
using Figure = double (*)(const SeriesRange&);

double leastOf(const SeriesRange& range) {
    return range.least;
}
double greatestOf(const SeriesRange& range) {
    return range.greatest;
}
double meanOf(const SeriesRange& range) {
    return range.mean();
}

std::string linePath(const Panel& panel, PictureBins bins, Series series, Figure figure) {
    std::string data;
    for (const auto& bin : bins)
        data += (data.empty() ? "M" : "L") + point(panel, centre_s(bin), figure(rangeOf(bin, series)));
    return data;
}

/// Along the greatest values and back along the least.
std::string rangePath(const Panel& panel, PictureBins bins, Series series) {
    auto data = linePath(panel, bins, series, greatestOf);
    for (auto bin = bins.rbegin(); bin != bins.rend(); ++bin)
        data += "L" + point(panel, centre_s(*bin), rangeOf(*bin, series).least);
    return data + "Z";
}

/// Steps along the greatest values, closed along the panel's floor.
std::string areaPath(const Panel& panel, PictureBins bins, Series series) {
    const auto floor = panel.value.least;
    auto data = "M" + point(panel, bins.front().start, floor);
    for (const auto& bin : bins)
        data += "L" + point(panel, bin.start, rangeOf(bin, series).greatest) + "L"
                + point(panel, bin.end, rangeOf(bin, series).greatest);
    return data + "L" + point(panel, bins.back().end, floor) + "Z";
}

void drawSample(SvgDrawing& drawing, double x, double baseline, const LegendEntry& entry) {
    const auto middle = baseline - 0.35 * legend_px;
    if (entry.isArea)
        drawing.rectangle(x, middle - 5, sampleWidth_px, 10, entry.paint);
    else
        drawing.line(x, middle, x + sampleWidth_px, middle, entry.paint);
}

} // namespace

void drawFrame(SvgDrawing& drawing, const Panel& panel, const std::vector<double>& acrossTicks,
               const std::vector<double>& valueTicks) {
    for (const auto tick : acrossTicks)
        drawing.line(panel.across(tick), panel.top(), panel.across(tick), panel.bottom(),
                     {.stroke = gridColour});
    const auto decimals = decimalsFor(valueTicks);
    for (const auto tick : valueTicks) {
        const auto y = panel.value(tick);
        drawing.line(panel.left(), y, panel.right(), y, {.stroke = gridColour});
        drawing.text(panel.left() - 8, y + 0.35 * tickLabel_px, fixed(tick, decimals),
                     {.size_px = tickLabel_px, .anchor = "end"});
    }
    drawing.rectangle(panel.left(), panel.top(), panel.right() - panel.left(), panel.bottom() - panel.top(),
                      {.stroke = frameColour});
}

void drawHeading(SvgDrawing& drawing, const Panel& panel, const std::string& heading,
                 const std::vector<LegendEntry>& legend) {
    const auto baseline = panel.top() - headingGap_px;
    drawing.text(panel.left(), baseline, heading, {.size_px = heading_px, .bold = true});
    auto x = panel.right();
    for (auto entry = legend.rbegin(); entry != legend.rend(); ++entry) {
        x -= textWidth_px(entry->label, legend_px);
        drawing.text(x, baseline, entry->label, {.size_px = legend_px});
        x -= sampleWidth_px + 6;
        drawSample(drawing, x, baseline, *entry);
        x -= 18;
    }
}

std::vector<PictureSeries::Decimator::Bin> widened(const Panel& panel, PictureBins bins, double width_px) {
    std::vector<Bin> wide;
    for (const auto& bin : bins)
        if (!wide.empty() && panel.across(wide.back().end) - panel.across(wide.back().start) < width_px)
            wide.back().merge(bin);
        else
            wide.push_back(bin);
    return wide;
}

void drawRange(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint) {
    eachStretch(bins, series, [&](PictureBins part) { drawing.path(rangePath(panel, part, series), paint); });
}

void drawMean(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint) {
    eachStretch(bins, series,
                [&](PictureBins part) { drawing.path(linePath(panel, part, series, meanOf), paint); });
}

void drawLeast(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint) {
    eachStretch(bins, series,
                [&](PictureBins part) { drawing.path(linePath(panel, part, series, leastOf), paint); });
}

void drawArea(SvgDrawing& drawing, const Panel& panel, PictureBins bins, Series series, const Paint& paint) {
    eachStretch(bins, series, [&](PictureBins part) { drawing.path(areaPath(panel, part, series), paint); });
}

void drawLevel(SvgDrawing& drawing, const Panel& panel, double value, const Paint& paint) {
    const auto y = panel.value(value);
    drawing.line(panel.left(), y, panel.right(), y, paint);
}

} // namespace headland::console
