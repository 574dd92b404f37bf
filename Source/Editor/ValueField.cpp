// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/ValueField.h"

#include "Editor/Look.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace headland::editor {

namespace {

constexpr int stepWidth = 26;
constexpr double fineShare = 0.1; ///< with Shift
constexpr double dragOfRange_px = 200;

/// What a press of a button or a key is worth, in the field's own unit: as much as one can see of it in the units shown.
double stepOf(const Field& field, Units units) {
    if (field.unit == "dB")
        return 0.5;
    if (field.unit == "µm" && units == Units::inch)
        return 1.27; // a twentieth of a mil
    return field.isWhole || field.unit == "µm" ? 1.0 : (field.greatest - field.least) / 100;
}

/// To a number a person would write in the units shown: a power of ten that is a two-thousandth of the range or less.
double readable(double value, const Field& field, Units units) {
    if (field.isWhole)
        return std::round(value);
    const auto size = shownUnit(field.unit, units).size;
    const auto grain = std::pow(10, std::floor(std::log10((field.greatest - field.least) / size / 2000)));
    return std::round(value / size / grain) * grain * size;
}

} // namespace

ValueField::ValueField(const Field& field) : shown(field) {
    setComponentID(toJuce(field.key));
    addChoice();
    if (!isChoice()) {
        typed.addMouseListener(this, false);
        typed.addKeyListener(this);
        addTyped(field.isRidden ? 20.0f : 16.0f);
        if (field.isRidden)
            for (auto* button : {&less, &more}) {
                button->setTitle((button == &less ? "Less " : "More ") + toJuce(field.label));
                button->onClick = [this, button] { step(button == &less ? -1 : 1); };
                addAndMakeVisible(button);
            }
    }
    show(units);
    refresh(units);
}

ValueField::~ValueField() {
    if (drag.hand == Drag::Hand::dragging)
        shown.value->endGesture();
    typed.removeKeyListener(this);
    typed.removeMouseListener(this);
}

void ValueField::addChoice() {
    for (const auto& text : choicesOf(shown, units))
        choice.addItem(toJuce(text), choice.getNumItems() + 1);
    if (!isChoice())
        return;
    choice.onChange = [this] { choose(); };
    addAndMakeVisible(choice);
}

void ValueField::choose() {
    tellInOneGo(choice.getSelectedItemIndex());
    if (onEntered)
        onEntered({});
}

/// Everything that has a unit in it, but the value.
void ValueField::show(Units wanted) {
    units = wanted;
    auto about = inUnits(std::string(shown.does) + " " + std::string(shown.reason), units);
    const auto title = toJuce(labelText(shown, units));
    if (isChoice()) {
        const auto texts = choicesOf(shown, units);
        for (int i = 0; i < choice.getNumItems(); ++i)
            choice.changeItemText(i + 1, toJuce(texts[static_cast<std::size_t>(i)]));
        choice.setTitle(title);
        return choice.setTooltip(toJuce(about));
    }
    about += " " + rangeText(shown, units)
             + ". Type it, press the keys up and down, or hold the mouse on it for half a second and drag it "
               "up or "
               "down; Shift: a tenth as fast.";
    typed.setTitle(title);
    typed.setTooltip(toJuce(about));
}

juce::String ValueField::value() const {
    return toJuce(valueText(shown, units));
}

void ValueField::refresh(Units wanted) {
    if (wanted != units) {
        show(wanted);
        if (isChoice())
            choice.setSelectedItemIndex(-1, juce::dontSendNotification); // so that its text is set anew
        giveUpTyping();
    }
    if (isChoice())
        choice.setSelectedItemIndex(static_cast<int>(valueOf(shown)), juce::dontSendNotification);
    else
        TypedField::refresh();
}

/// What is shown has fewer figures than the value: shown text that is confirmed changes nothing.
std::string ValueField::take(const juce::String& text) {
    if (text == value())
        return {};
    const auto read = readTyped(shown, text.toStdString(), units);
    if (read.refusal.empty())
        tellInOneGo(read.value);
    return read.refusal;
}

void ValueField::tellInOneGo(double wanted) {
    shown.value->beginGesture();
    shown.value->set(wanted);
    shown.value->endGesture();
}

/// A value within the range, as if it had been typed.
void ValueField::put(double wanted) {
    tellInOneGo(std::clamp(wanted, shown.least, shown.greatest));
    giveUpTyping();
    if (onEntered)
        onEntered({});
}

void ValueField::step(double steps) {
    put(valueOf(shown) + steps * stepOf(shown, units));
}

bool ValueField::keyPressed(const juce::KeyPress& key, juce::Component*) {
    const auto steps = (key.getModifiers().isShiftDown() && !shown.isWhole ? fineShare : 1.0);
    if (key.isKeyCode(juce::KeyPress::upKey))
        step(steps);
    else if (key.isKeyCode(juce::KeyPress::downKey))
        step(-steps);
    else
        return false;
    return true;
}

void ValueField::mouseDown(const juce::MouseEvent& event) {
    const auto at = event.getEventRelativeTo(this).position;
    drag = {at.x, at.y, valueOf(shown), isChoice() ? Drag::Hand::none : Drag::Hand::pressing};
    startTimer(grip_ms);
}

/// Held long enough: shown, so that a person knows that it drags from now on.
void ValueField::grip() {
    stopTimer();
    if (drag.hand != Drag::Hand::pressing)
        return;
    drag.hand = Drag::Hand::gripped;
    typed.setMouseCursor(juce::MouseCursor::UpDownResizeCursor);
    repaint();
}

void ValueField::mouseDrag(const juce::MouseEvent& event) {
    constexpr float meant_px = 4;
    const auto at = event.getEventRelativeTo(this).position;
    const auto up_px = drag.y - at.y;
    const auto hasMoved = std::hypot(up_px, at.x - drag.x) > meant_px;
    if (drag.hand == Drag::Hand::pressing && event.getLengthOfMousePress() >= grip_ms)
        grip(); // the timer may be late
    if (drag.hand == Drag::Hand::pressing && hasMoved)
        drag.hand = Drag::Hand::slipped; // for good: however long it is held now
    if (drag.hand == Drag::Hand::gripped && hasMoved) {
        drag.hand = Drag::Hand::dragging;
        shown.value->beginGesture();
    }
    if (drag.hand != Drag::Hand::dragging)
        return;
    const auto perPixel =
        (shown.greatest - shown.least) / dragOfRange_px * (event.mods.isShiftDown() ? fineShare : 1);
    drag.exact = std::clamp(drag.exact + up_px * perPixel, shown.least, shown.greatest);
    drag.y = at.y;
    shown.value->set(std::clamp(readable(drag.exact, shown, units), shown.least, shown.greatest));
    giveUpTyping();
}

void ValueField::mouseUp(const juce::MouseEvent&) {
    stopTimer();
    const auto before = std::exchange(drag.hand, Drag::Hand::none);
    if (before == Drag::Hand::gripped || before == Drag::Hand::dragging) {
        typed.setMouseCursor(juce::MouseCursor::IBeamCursor);
        repaint();
    }
    if (before != Drag::Hand::dragging)
        return;
    shown.value->endGesture();
    if (onEntered)
        onEntered({});
    if (onDone)
        onDone();
}

juce::String ValueField::nameAbove() const {
    return toJuce(labelText(shown, units));
}

juce::String ValueField::below() const {
    if (drag.hand == Drag::Hand::gripped || drag.hand == Drag::Hand::dragging)
        return "Gripped: drag up or down";
    return isChoice() ? juce::String() : toJuce(rangeText(shown, units));
}

/// A ridden field is low: there what would do has to be enough, and whoever listens says the rest.
juce::String ValueField::refusalBeside() const {
    return shown.isRidden ? toJuce(rangeText(shown, units) + " will do.") : TypedField::refusalBeside();
}

std::string ValueField::refusalTold() const {
    return std::string(shown.label) + ": " + refusal();
}

void ValueField::resized() {
    TypedField::resized();
    auto area = typed.getBounds();
    choice.setBounds(area);
    if (shown.isRidden && !isChoice()) {
        less.setBounds(area.removeFromLeft(stepWidth).withTrimmedRight(2));
        more.setBounds(area.removeFromRight(stepWidth).withTrimmedLeft(2));
        typed.setBounds(area);
        fitTyped();
    }
}

} // namespace headland::editor
