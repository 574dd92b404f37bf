// SPDX-License-Identifier: GPL-3.0-or-later
// One parameter to be typed, dragged or chosen, in the units shown, with its range. Dragging the name or the number up or
// down changes it, so do the keys up and down while it has the keyboard; Shift makes both a tenth as fast. What is ridden has
// two buttons to step it as well.
// Every change is one gesture to the host, and whoever listens hears of it. Main thread.
#pragma once

#include "Editor/TypedField.h"
#include "Editor/Words.h"

namespace headland::editor {

class ValueField final : public TypedField, public juce::KeyListener {
public:
    explicit ValueField(const Field& field);
    ~ValueField() override;

    /// Shows the value as it is, in these units, unless it is being typed. Other units than before: what was being typed is
    /// given up, for a bare number would mean something else.
    void refresh(Units units);

    const Field& field() const noexcept { return shown; }
    juce::String value() const override;

    void mouseDown(const juce::MouseEvent& event) override;
    void mouseDrag(const juce::MouseEvent& event) override;
    void mouseUp(const juce::MouseEvent& event) override;
    using Component::keyPressed;
    bool keyPressed(const juce::KeyPress& key, juce::Component* from) override;
    void resized() override;

private:
    std::string take(const juce::String& text) override;
    juce::String nameAbove() const override;
    juce::String below() const override;
    juce::String refusalBeside() const override;
    std::string refusalTold() const override;

    bool isChoice() const noexcept { return choice.getNumItems() > 0; }
    void addChoice();
    void choose();
    void show(Units units);
    void step(double steps);
    void tellInOneGo(double wanted);
    void put(double wanted);

    /// Where a drag is. `exact` is not rounded, so that a slow hand gets on.
    struct Drag {
        float x, y;
        double exact;
        bool isUnderWay = false;
    };

    Field shown;
    Units units = Units::metric;
    juce::ComboBox choice;
    juce::TextButton less{juce::CharPointer_UTF8("\xe2\x88\x92")}, more{"+"};
    Drag drag{};
};

} // namespace headland::editor
