// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Sheet.h"

#include "Editor/Look.h"

#include <utility>

namespace headland::editor {

namespace {

constexpr int sheetMargin = 10, sheetHeadHeight = 34, closeWidth = 110, sheetGap = 6;

} // namespace

Sheet::Sheet(const juce::String& name, std::unique_ptr<juce::Component> c) : content(std::move(c)) {
    setComponentID("sheet");
    setTitle(name);
    setWantsKeyboardFocus(true);
    closeButton.setComponentID("sheet close");
    closeButton.onClick = [this] {
        if (onClose)
            onClose();
    };
    addAndMakeVisible(closeButton);
    if (content) {
        view.setViewedComponent(content.get(), false);
        view.setScrollBarsShown(true, false);
        addAndMakeVisible(view);
    }
}

void Sheet::takeKeyboard() {
    grabKeyboardFocus();
}

juce::Rectangle<int> Sheet::contentArea() const {
    return getLocalBounds().reduced(sheetMargin).withTrimmedTop(sheetHeadHeight + sheetGap);
}

void Sheet::paint(juce::Graphics& g) {
    g.fillAll(colour(palette::panel));
    g.setColour(colour(palette::line));
    g.drawRect(getLocalBounds(), 2);
    g.setColour(colour(palette::text));
    drawWhole(g, getTitle(),
              getLocalBounds()
                  .reduced(sheetMargin)
                  .removeFromTop(sheetHeadHeight)
                  .withTrimmedRight(closeWidth + sheetGap)
                  .toFloat(),
              20, juce::Justification::centredLeft, true);
}

void Sheet::resized() {
    closeButton.setBounds(
        getLocalBounds().reduced(sheetMargin).removeFromTop(sheetHeadHeight).removeFromRight(closeWidth));
    view.setBounds(contentArea());
    if (content)
        content->setSize(contentArea().getWidth() - view.getScrollBarThickness(), content->getHeight());
}

} // namespace headland::editor
