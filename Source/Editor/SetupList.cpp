// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/SetupList.h"

#include "Editor/Look.h"

#include <algorithm>

namespace headland::editor {

namespace {

constexpr int setupListHeadHeight = 40, setupListRowHeight = 80, setupListGap = 4, columnLeast = 260;

} // namespace

SetupList::SetupList(Access& access, const std::function<void(Typing&)>& prepare)
    : oscAddress(
        {"osc_host", "OSC address",
         "Where OSC is sent to, if it is on: a name or an address, 127.0.0.1 for this machine.",
         "127.0.0.1 is this machine"},
        [&access] { return access.oscHost(); },
        [&access](const std::string& host) { return access.sendOscTo(host); }) {
    setComponentID("setup");
    prepare(oscAddress);
    for (const auto& field : access.fields())
        if (!field.isRidden) {
            auto& value = values.emplace_back(std::make_unique<ValueField>(field));
            prepare(*value);
            rows.addAndMakeVisible(*value);
        }
    rows.addAndMakeVisible(oscAddress);
    view.setViewedComponent(&rows, false);
    view.setScrollBarsShown(true, false);
    addAndMakeVisible(view);
}

void SetupList::show(const Glimpse& glimpse) {
    const auto down = glimpse.status.state != cut::State::up || glimpse.status.lowering;
    const auto wanted =
        !down ? std::string("Set-up")
        : glimpse.changesWait
            ? std::string("Frozen while the stylus is down: what you changed waits until it is up")
            : std::string("Frozen while the stylus is down: changes wait until it is up");
    if (wanted != head) {
        head = wanted;
        frozen = down;
        setTitle(toJuce(head));
        repaint();
    }
    for (auto& value : values)
        value->refresh(glimpse.units);
    oscAddress.refresh();
}

void SetupList::paint(juce::Graphics& g) {
    g.setColour(colour(palette::panel));
    g.fillRoundedRectangle(getLocalBounds().toFloat(), 4);
    g.setColour(colour(frozen ? palette::caution : palette::text));
    g.setFont(juce::Font(15, juce::Font::bold));
    g.drawFittedText(toJuce(head), getLocalBounds().removeFromTop(setupListHeadHeight).reduced(10, 2),
                     juce::Justification::centredLeft, 2, 0.8f);
}

void SetupList::resized() {
    auto area = getLocalBounds().withTrimmedTop(setupListHeadHeight).reduced(10, 4);
    view.setBounds(area);
    const auto width = area.getWidth() - view.getScrollBarThickness() - setupListGap;
    const auto columns = std::max(1, width / columnLeast);
    const auto each = width / columns;
    const auto place = [&](juce::Component& field, int number) {
        field.setBounds(setupListGap / 2 + number % columns * each, number / columns * setupListRowHeight,
                        each - 2 * setupListGap, setupListRowHeight - setupListGap);
    };
    auto number = 0;
    for (auto& value : values)
        place(*value, number++);
    place(oscAddress, number++);
    rows.setSize(width, (number + columns - 1) / columns * setupListRowHeight);
}

} // namespace headland::editor
