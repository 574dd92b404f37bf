// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/DelayChart.h"

#include "Cut/TapePath.h"
#include "Editor/Look.h"
#include "Text/Figures.h"

#include <algorithm>

namespace headland::editor {

namespace {

constexpr float chartHeadHeight = 22, chartLetters = 14;
/// Where the columns begin, as shares of the width.
constexpr float turnsAt = 0.10f, firstTapeAt = 0.20f, secondTapeAt = 0.33f, barAt = 0.46f, usedAt = 0.72f,
                shortAt = 0.83f;

std::string shortText(const cut::DelayCost& cost, Units units) {
    return cost.shortfallSectors == 0 ? std::string("nothing")
                                      : shortLength(cost.shortfallGreatest_um, units) + ", "
                                            + text::counted(cost.shortfallSectors, "sector");
}

/// As the trade says it: "38 cm/s", or "15 in/s".
std::string speedText(const cut::TapeSpeed& speed, Units units) {
    constexpr double cm_per_in = 2.54;
    return units == Units::inch ? text::fixed(speed.speed_cm_s / cm_per_in, 0) + " in/s"
                                : std::string(speed.name) + " cm/s";
}

} // namespace

std::string delayText(double delay_s, double turn_s, Units units) {
    auto text = text::fixed(delay_s, 3) + " s = " + text::fixed(delay_s / turn_s, 2) + " turns";
    auto before = std::string(" = ");
    for (const auto& speed : cut::tapeSpeeds) {
        text += before + longLength(cut::tapePath_mm(delay_s, speed), units) + " of tape at "
                + speedText(speed, units);
        before = ", ";
    }
    return text;
}

std::string studyText(const StudiedDelay& delay, Units units) {
    return text::fixed(delay.cost.preview_s, 3) + " s, " + text::fixed(delay.turns, 2)
           + " turns: " + longLength(delay.cost.used_mm, units, 2) + " of disc, short "
           + shortText(delay.cost, units) + (delay.isSet ? " (as set)" : "");
}

DelayChart::DelayChart() {
    setComponentID("delays");
}

void DelayChart::show(const DelayStudyResult& wanted, Units wantedUnits) {
    const auto isSame = wanted.cutTo_s == result.cutTo_s && wanted.delays.size() == result.delays.size()
                        && wanted.isWhole == result.isWhole && wantedUnits == units;
    if (isSame)
        return;
    result = wanted;
    units = wantedUnits;
    std::string all = "What other delays would have cost.";
    for (const auto& delay : result.delays)
        all += " " + studyText(delay, units) + ".";
    setTitle(toJuce(all));
    repaint();
}

void DelayChart::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    auto area = getLocalBounds().toFloat().reduced(10, 4);
    const auto left = area.getX(), width = area.getWidth();
    const auto cell = [&](juce::Rectangle<float> row, float from, float to, const std::string& text,
                          bool bold = false) {
        drawWhole(g, toJuce(text), row.withX(left + from * width).withWidth((to - from) * width - 8),
                  chartLetters, juce::Justification::centredLeft, bold);
    };
    auto head = area.removeFromTop(chartHeadHeight);
    g.setColour(colour(palette::quiet));
    cell(head, 0, turnsAt, "Delay");
    cell(head, turnsAt, firstTapeAt, "Turns");
    cell(head, firstTapeAt, secondTapeAt, "Tape at " + speedText(cut::tapeSpeeds[0], units));
    cell(head, secondTapeAt, barAt, "Tape at " + speedText(cut::tapeSpeeds[1], units));
    cell(head, barAt, shortAt, "Disc used");
    cell(head, shortAt, 1, "Falls short by, at the most");
    if (result.delays.empty())
        return;
    auto most_mm = 0.0;
    for (const auto& delay : result.delays)
        most_mm = std::max(most_mm, delay.cost.used_mm);
    const auto each = std::min(34.0f, area.getHeight() / static_cast<float>(result.delays.size()));
    for (const auto& delay : result.delays) {
        auto row = area.removeFromTop(each);
        if (delay.isSet) {
            g.setColour(colour(palette::button));
            g.fillRoundedRectangle(row.expanded(6, 0), 4);
        }
        g.setColour(colour(palette::text));
        cell(row, 0, turnsAt, text::fixed(delay.cost.preview_s, 3) + " s", delay.isSet);
        cell(row, turnsAt, firstTapeAt, text::fixed(delay.turns, 2) + (delay.isSet ? " (set)" : ""),
             delay.isSet);
        cell(row, firstTapeAt, secondTapeAt,
             longLength(cut::tapePath_mm(delay.cost.preview_s, cut::tapeSpeeds[0]), units, 0));
        cell(row, secondTapeAt, barAt,
             longLength(cut::tapePath_mm(delay.cost.preview_s, cut::tapeSpeeds[1]), units, 0));
        cell(row, usedAt, shortAt, longLength(delay.cost.used_mm, units, 2));
        const auto isShort = delay.cost.shortfallSectors > 0;
        const auto bar = row.withX(left + barAt * width)
                             .withWidth((usedAt - barAt) * width - 12)
                             .withSizeKeepingCentre((usedAt - barAt) * width - 12, each * 0.5f);
        g.setColour(colour(palette::ground));
        g.fillRect(bar);
        g.setColour(colour(isShort ? palette::caution : palette::good));
        const auto length =
            most_mm > 0 ? bar.getWidth() * static_cast<float>(delay.cost.used_mm / most_mm) : 0.0f;
        g.fillRect(bar.withWidth(length));
        if (isShort) // hatched as well: the colour is not alone
            for (auto x = bar.getX() + 4; x < bar.getX() + length - 2; x += 8) {
                g.setColour(colour(palette::ground));
                g.fillRect(x, bar.getY(), 2.0f, bar.getHeight());
            }
        g.setColour(colour(isShort ? palette::caution : palette::text));
        cell(row, shortAt, 1, shortText(delay.cost, units));
    }
}

std::unique_ptr<juce::AccessibilityHandler> DelayChart::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::image);
}

} // namespace headland::editor
