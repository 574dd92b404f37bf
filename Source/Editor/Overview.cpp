// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Overview.h"

#include "Cut/Spoils.h"
#include "Editor/Look.h"
#include "Editor/Scale.h"
#include "Text/Figures.h"
#include "Text/Times.h"

#include <algorithm>
#include <cmath>

namespace headland::editor {

namespace {

constexpr float overviewAxisWidth = 62, overviewFootHeight = 15, overviewMargin = 6, overviewLetters = 12;
constexpr double leastShown_s = 60;

juce::Rectangle<float> plotOf(juce::Rectangle<float> area) {
    area = area.reduced(overviewMargin, 3);
    area.removeFromLeft(overviewAxisWidth);
    area.removeFromBottom(overviewFootHeight);
    return area;
}

double lastOf(const SideHistory* side) {
    return side == nullptr || side->frames().empty() ? 0 : side->frames().back().time_s;
}

double mostOf(const SideHistory* side) {
    auto most_um = 0.0;
    if (side != nullptr)
        for (const auto& turn : side->turns())
            if (turn.state == cut::State::program)
                most_um = std::max({most_um, turn.demandGreatest_um, turn.pitchMean_um});
    return most_um;
}

} // namespace

Overview::Overview() {
    setComponentID("overview");
    setOpaque(true);
    setWantsKeyboardFocus(true);
    setTooltip("The whole side: spacing demanded (area) and pitch (line), turn by turn; marks above are "
               "cautions, taller ones "
               "faults; diamonds below are notes. Click, drag, arrow keys, Home and End look at a place.");
}

void Overview::show(const OverviewSight& wanted) {
    const auto turns = wanted.side == nullptr ? 0 : wanted.side->turns().size();
    const auto rehearsed = wanted.rehearsed == nullptr ? 0 : wanted.rehearsed->turns().size();
    if (wanted.side == sight.side && wanted.rehearsed == sight.rehearsed && wanted.isOld == sight.isOld
        && wanted.length_s == sight.length_s && wanted.place_s == sight.place_s && wanted.units == sight.units
        && wanted.none == sight.none && turns == turnsShown && rehearsed == turnsRehearsed)
        return;
    sight = wanted;
    turnsShown = turns;
    turnsRehearsed = rehearsed;
    end_s = std::max({leastShown_s, lastOf(sight.side), lastOf(sight.rehearsed), sight.length_s});
    setTitle(toJuce(
        "Overview: "
        + (turns + rehearsed == 0 ? sight.none
           : turns == 0           ? "rehearsed " + text::minutesSeconds(lastOf(sight.rehearsed))
                                  : "cut to " + text::minutesSeconds(lastOf(sight.side)))
        + (sight.notes_s.empty() ? std::string()
                                 : ", " + text::counted(static_cast<long long>(sight.notes_s.size()), "note"))
        + (sight.place_s ? ", looking at " + text::minutesTenths(*sight.place_s) : std::string())));
    repaint();
}

double Overview::timeAt(float x) const noexcept {
    const auto plot = plotOf(getLocalBounds().toFloat());
    return std::clamp(static_cast<double>((x - plot.getX()) / plot.getWidth()), 0.0, 1.0) * end_s;
}

/// From a time on; a rehearsal is drawn thinner, in outline, so that nobody takes it for what was cut.
void Overview::paintSide(juce::Graphics& g, const SideHistory& side, double from_s, double most_um,
                         bool isRehearsed) const {
    const auto plot = plotOf(getLocalBounds().toFloat());
    const auto x = [&](double time_s) {
        return plot.getX() + plot.getWidth() * static_cast<float>(time_s / end_s);
    };
    const auto y = [&](double um) {
        return plot.getBottom() - plot.getHeight() * static_cast<float>(std::clamp(um / most_um, 0.0, 1.0));
    };
    for (const auto& turn : side.turns()) {
        if (turn.end_s <= std::max(0.0, from_s))
            continue;
        const auto left = x(std::max(0.0, turn.start_s)), width = std::max(0.7f, x(turn.end_s) - left);
        g.setColour(colour(isRehearsed ? palette::rehearsed : palette::demand));
        g.fillRect(left, y(turn.demandGreatest_um), width, plot.getBottom() - y(turn.demandGreatest_um));
        g.setColour(colour(isRehearsed ? palette::quiet : palette::text));
        g.fillRect(left, y(turn.pitchMean_um) - 0.75f, width, isRehearsed ? 1.0f : 1.5f);
        if (turn.flags == 0)
            continue;
        const auto fault = cut::spoils(turn.flags);
        g.setColour(colour(fault ? palette::fault : palette::caution));
        g.fillRect(left, plot.getY(), std::max(2.0f, width), fault ? 10.0f : 5.0f);
    }
}

void Overview::paint(juce::Graphics& g) {
    g.fillAll(colour(palette::panel));
    const auto plot = plotOf(getLocalBounds().toFloat());
    g.setColour(colour(palette::ground));
    g.fillRect(plot);
    if (turnsShown + turnsRehearsed == 0) {
        g.setColour(colour(palette::quiet));
        drawWhole(g, toJuce(sight.none), plot.reduced(8, 0), 14, juce::Justification::centred);
    }
    const auto unit_um = unitOf(sight.units);
    const auto most_um =
        unit_um * roundAbove(std::max(mostOf(sight.side), mostOf(sight.rehearsed)) / unit_um);
    if (sight.rehearsed != nullptr)
        paintSide(g, *sight.rehearsed, lastOf(sight.side), most_um, true);
    if (sight.side != nullptr)
        paintSide(g, *sight.side, 0, most_um, false);
    const auto line = [&](double time_s, std::uint32_t paint, float width) {
        const auto x =
            plot.getX() + plot.getWidth() * static_cast<float>(std::clamp(time_s / end_s, 0.0, 1.0));
        g.setColour(colour(paint));
        g.fillRect(x - width / 2, plot.getY(), width, plot.getHeight());
        return x;
    };
    const auto say = [&](const std::string& text) {
        drawWhole(g, toJuce(text), plot.reduced(8, 0), overviewLetters + 1, juce::Justification::topRight,
                  true);
    };
    g.setColour(colour(palette::text));
    if (turnsRehearsed > 0 && sight.isOld)
        say("Dim: rehearsed before the set-up was changed");
    else if (turnsShown + turnsRehearsed > 0)
        say("The pitch travels "
            + shortLength((turnsShown > 0 ? sight.side : sight.rehearsed)->summary().pitchTravel_um,
                          sight.units, 1)
            + " a turn");
    if (turnsShown > 0)
        line(lastOf(sight.side), palette::good, 2);
    for (const auto time_s : sight.notes_s) {
        const auto x = line(time_s, palette::text, 1);
        juce::Path diamond;
        diamond.addQuadrilateral(x - 5, plot.getBottom() - 5, x, plot.getBottom() - 10, x + 5,
                                 plot.getBottom() - 5, x, plot.getBottom());
        g.setColour(colour(palette::bottom));
        g.strokePath(diamond, juce::PathStrokeType(2.5f));
        g.setColour(colour(palette::text));
        g.fillPath(diamond);
    }
    if (sight.place_s) {
        const auto x = line(*sight.place_s, palette::text, 1.5f);
        juce::Path pointer;
        pointer.addTriangle(x - 5, plot.getY(), x + 5, plot.getY(), x, plot.getY() + 7);
        g.fillPath(pointer);
    }
    g.setColour(colour(palette::quiet));
    if (turnsShown + turnsRehearsed > 0)
        drawWhole(g, toJuce(shortLength(most_um, sight.units, 0)),
                  juce::Rectangle<float>(plot.getX() - overviewAxisWidth, plot.getY() - 2,
                                         overviewAxisWidth - 6, 14),
                  overviewLetters, juce::Justification::centredRight);
    const auto step_s = std::max(10.0, 60 * markStep(end_s / 60, 12));
    for (auto t = 0.0; t <= end_s; t += step_s) {
        const auto x = plot.getX() + plot.getWidth() * static_cast<float>(t / end_s);
        g.setColour(colour(palette::line));
        g.fillRect(x - 0.5f, plot.getBottom(), 1.0f, 3.0f);
        g.setColour(colour(palette::quiet));
        drawWhole(g, toJuce(text::minutesSeconds(t)),
                  juce::Rectangle<float>(x - 24, plot.getBottom() + 2, 48, overviewFootHeight - 2)
                      .constrainedWithin(getLocalBounds().toFloat()),
                  overviewLetters, juce::Justification::centred);
    }
    if (hasKeyboardFocus(true))
        drawFocus(g, getLocalBounds().toFloat());
}

void Overview::mouseDrag(const juce::MouseEvent& event) {
    if (onPlace && turnsShown > 0)
        onPlace(std::min(timeAt(event.position.x), lastOf(sight.side)));
}

bool Overview::keyPressed(const juce::KeyPress& key) {
    if (!onPlace || turnsShown == 0)
        return false;
    const auto last_s = lastOf(sight.side), now_s = sight.place_s.value_or(last_s);
    const auto go = [&](double time_s) {
        onPlace(std::clamp(time_s, 0.0, last_s));
        return true;
    };
    constexpr double step_s = 1, leap_s = 30;
    if (key.isKeyCode(juce::KeyPress::leftKey))
        return go(now_s - step_s);
    if (key.isKeyCode(juce::KeyPress::rightKey))
        return go(now_s + step_s);
    if (key.isKeyCode(juce::KeyPress::pageUpKey))
        return go(now_s - leap_s);
    if (key.isKeyCode(juce::KeyPress::pageDownKey))
        return go(now_s + leap_s);
    if (key.isKeyCode(juce::KeyPress::homeKey))
        return go(0);
    if (key.isKeyCode(juce::KeyPress::endKey))
        return go(last_s);
    return false;
}

std::unique_ptr<juce::AccessibilityHandler> Overview::createAccessibilityHandler() {
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::image);
}

} // namespace headland::editor
