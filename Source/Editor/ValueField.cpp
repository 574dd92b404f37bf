// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/ValueField.h"

#include "Disc/Format.h"
#include "Editor/Look.h"

#include <cmath>

namespace headland::editor {

namespace {

constexpr int nameHeight = 18, fieldHeight = 28, stepWidth = 30;

/// What a press of a button is worth.
double stepOf(const Field& field) {
    if (field.unit == "dB")
        return 0.5;
    return field.isWhole || field.unit == "µm" ? 1.0 : (field.greatest - field.least) / 100;
}

} // namespace

ValueField::ValueField(const Field& field) : shown(field) {
    setComponentID(toJuce(field.key));
    const auto about = toJuce(std::string(field.does) + " " + std::string(field.reason));
    fillChoice();
    if (isChoice()) {
        choice.setTitle(toJuce(field.label));
        choice.setTooltip(about);
        choice.onChange = [this] {
            set(static_cast<float>(choice.getSelectedItemIndex())
                / static_cast<float>(choice.getNumItems() - 1));
        };
        addAndMakeVisible(choice);
        refresh();
        return;
    }
    typed.setTitle(toJuce(field.label));
    typed.setTooltip(about);
    typed.setFont(juce::Font(field.isRidden ? 20.0f : 16.0f));
    typed.setSelectAllWhenFocused(true);
    typed.onReturnKey = [this] {
        enter(typed.getText());
        if (onDone && refused.empty())
            onDone();
    };
    typed.onFocusLost = [this] {
        if (typed.getText() != value())
            enter(typed.getText());
    };
    typed.onEscapeKey = [this] {
        refused.clear();
        typed.setText(value(), false);
        repaint();
        if (onDone)
            onDone();
        if (onEscape)
            onEscape();
    };
    addAndMakeVisible(typed);
    if (field.isRidden)
        for (auto* button : {&less, &more}) {
            button->setTitle((button == &less ? "Less " : "More ") + toJuce(field.label));
            button->onClick = [this, button] { step(button == &less ? -1 : 1); };
            addAndMakeVisible(button);
        }
    refresh();
}

ValueField::~ValueField() = default;

void ValueField::fillChoice() {
    if (!shown.isWhole)
        return;
    if (shown.key == "format")
        for (const auto& format : disc::formats())
            choice.addItem(toJuce(format.name), choice.getNumItems() + 1);
    else if (shown.least == 0 && shown.greatest == 1)
        choice.addItemList({"Off", "On"}, 1);
}

juce::String ValueField::value() const {
    return shown.parameter->getCurrentValueAsText();
}

void ValueField::refresh() {
    if (isChoice()) {
        const auto index =
            juce::roundToInt(shown.parameter->getValue() * static_cast<float>(choice.getNumItems() - 1));
        choice.setSelectedItemIndex(index, juce::dontSendNotification);
    } else if (!typed.hasKeyboardFocus(true) && refused.empty() && typed.getText() != value())
        typed.setText(value(), false);
}

void ValueField::enter(const juce::String& text) {
    const auto read = readTyped(shown, text.toStdString());
    refused = read.refusal;
    if (refused.empty()) {
        set(shown.parameter->getValueForText(text));
        typed.setText(value(), false);
    } else
        typed.setText(text, false);
    repaint();
    if (onEntered)
        onEntered(refused.empty() ? refused : std::string(shown.label) + ": " + refused);
}

void ValueField::step(double steps) {
    const auto now = readTyped(shown, value().toStdString());
    const auto wanted = std::clamp(now.value + steps * stepOf(shown), shown.least, shown.greatest);
    enter(juce::String(wanted));
}

void ValueField::set(float normalised) {
    shown.parameter->beginChangeGesture();
    shown.parameter->setValueNotifyingHost(normalised);
    shown.parameter->endChangeGesture();
}

juce::String ValueField::subtitle() const {
    return (refused.empty() ? "" : "Refused: ") + toJuce(rangeText(shown));
}

void ValueField::paint(juce::Graphics& g) {
    auto area = getLocalBounds().toFloat();
    g.setColour(colour(palette::text));
    drawWhole(g, toJuce(shown.label), area.removeFromTop(nameHeight), 14, juce::Justification::centredLeft);
    area.removeFromTop(fieldHeight);
    if (isChoice())
        return;
    g.setColour(colour(refused.empty() ? palette::quiet : palette::fault));
    drawWhole(g, subtitle(), area, 13, juce::Justification::centredLeft);
}

void ValueField::resized() {
    auto area = getLocalBounds().withTrimmedTop(nameHeight).removeFromTop(fieldHeight);
    if (isChoice())
        return choice.setBounds(area);
    if (shown.isRidden) {
        less.setBounds(area.removeFromLeft(stepWidth).withTrimmedRight(2));
        more.setBounds(area.removeFromRight(stepWidth).withTrimmedLeft(2));
    }
    typed.setBounds(area);
}

} // namespace headland::editor
