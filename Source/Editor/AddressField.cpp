// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/AddressField.h"

#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr int nameHeight = 18, fieldHeight = 28;

} // namespace

AddressField::AddressField(Access& a) : access(a) {
    setComponentID("osc_host");
    typed.setTitle("OSC address");
    typed.setTooltip("Where OSC is sent to, if it is on: a name or an address, 127.0.0.1 for this machine.");
    typed.setFont(juce::Font(16.0f));
    typed.setSelectAllWhenFocused(true);
    typed.onReturnKey = [this] { enter(typed.getText()); };
    typed.onFocusLost = [this] { enter(typed.getText()); };
    typed.onEscapeKey = [this] {
        refused.clear();
        typed.setText(toJuce(access.oscHost()), false);
        access.cue(cut::Cue::lift); // the key belongs to the stylus first of all
    };
    addAndMakeVisible(typed);
    refresh();
}

void AddressField::refresh() {
    const auto address = toJuce(access.oscHost());
    if (!typed.hasKeyboardFocus(true) && refused.empty() && typed.getText() != address)
        typed.setText(address, false);
}

void AddressField::enter(const juce::String& text) {
    refused = access.sendOscTo(text.trim().toStdString());
    typed.setText(refused.empty() ? toJuce(access.oscHost()) : text, false);
    repaint();
}

void AddressField::paint(juce::Graphics& g) {
    auto area = getLocalBounds().toFloat();
    g.setColour(colour(palette::text));
    drawWhole(g, "OSC address", area.removeFromTop(nameHeight), 14, juce::Justification::centredLeft);
    area.removeFromTop(fieldHeight);
    g.setColour(colour(refused.empty() ? palette::quiet : palette::fault));
    if (refused.empty())
        return drawWhole(g, "127.0.0.1 is this machine", area, 13, juce::Justification::centredLeft);
    g.setFont(13);
    g.drawFittedText("Refused: " + toJuce(refused), area.toNearestInt(), juce::Justification::centredLeft, 2,
                     0.7f);
}

void AddressField::resized() {
    typed.setBounds(getLocalBounds().withTrimmedTop(nameHeight).removeFromTop(fieldHeight));
}

} // namespace headland::editor
