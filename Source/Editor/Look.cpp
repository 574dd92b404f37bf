// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Look.h"

namespace headland::editor {

namespace {

constexpr float lookCorner = 4;

void drawFrame(juce::Graphics& g, juce::Rectangle<float> area, bool hasKeyboard) {
    g.setColour(colour(hasKeyboard ? palette::good : palette::line));
    const auto width = hasKeyboard ? 2.5f : 1.0f;
    g.drawRoundedRectangle(area.reduced(width / 2), lookCorner, width);
}

} // namespace

Look::Look() {
    setColour(juce::ResizableWindow::backgroundColourId, colour(palette::ground));
    setColour(juce::DocumentWindow::textColourId, colour(palette::text));
    setColour(juce::TextButton::buttonColourId, colour(palette::button));
    setColour(juce::TextButton::textColourOffId, colour(palette::text));
    setColour(juce::TextEditor::backgroundColourId, colour(palette::button));
    setColour(juce::TextEditor::textColourId, colour(palette::text));
    setColour(juce::TextEditor::outlineColourId, colour(palette::line));
    setColour(juce::TextEditor::focusedOutlineColourId, colour(palette::good));
    setColour(juce::TextEditor::highlightColourId, colour(palette::line));
    setColour(juce::TextEditor::highlightedTextColourId, colour(palette::text));
    setColour(juce::CaretComponent::caretColourId, colour(palette::good));
    setColour(juce::ComboBox::backgroundColourId, colour(palette::button));
    setColour(juce::ComboBox::textColourId, colour(palette::text));
    setColour(juce::ComboBox::arrowColourId, colour(palette::text));
    setColour(juce::ScrollBar::thumbColourId, colour(palette::quiet));
    setColour(juce::TooltipWindow::backgroundColourId, colour(palette::button));
    setColour(juce::TooltipWindow::textColourId, colour(palette::text));
    setColour(juce::Label::textColourId, colour(palette::text));
    setColour(juce::ToggleButton::textColourId, colour(palette::text));
    setColour(juce::ToggleButton::tickColourId, colour(palette::text));
    setColour(juce::ToggleButton::tickDisabledColourId, colour(palette::quiet));
    setColour(juce::ListBox::backgroundColourId, colour(palette::panel));
    setColour(juce::ListBox::textColourId, colour(palette::text));
}

void Look::drawButtonBackground(juce::Graphics& g, juce::Button& button, const juce::Colour& ground,
                                bool highlighted, bool down) {
    const auto area = button.getLocalBounds().toFloat().reduced(1);
    g.setColour(!button.isEnabled() ? colour(palette::panel)
                : down              ? ground.brighter(0.1f)
                : highlighted       ? ground.brighter(0.05f)
                                    : ground);
    g.fillRoundedRectangle(area, lookCorner);
    if (button.isEnabled())
        drawFrame(g, area, button.hasKeyboardFocus(true));
    if (button.getToggleState()) { // chosen: a bar below, not only another shade
        constexpr float bar = 3;
        g.setColour(colour(palette::good));
        g.fillRect(area.withTop(area.getBottom() - bar).reduced(2 * lookCorner, 0));
    }
}

void Look::drawButtonText(juce::Graphics& g, juce::TextButton& button, bool, bool) {
    g.setColour(button.isEnabled() ? button.findColour(juce::TextButton::textColourOffId)
                                   : colour(palette::quiet));
    g.setFont(juce::Font(std::min(15.0f, static_cast<float>(button.getHeight()) * 0.5f)));
    g.drawFittedText(button.getButtonText(), button.getLocalBounds().reduced(5, 3),
                     juce::Justification::centred, 2, 0.8f);
}

void Look::drawComboBox(juce::Graphics& g, int width, int height, bool, int, int, int, int,
                        juce::ComboBox& box) {
    const juce::Rectangle<float> area(0, 0, static_cast<float>(width), static_cast<float>(height));
    g.setColour(box.findColour(juce::ComboBox::backgroundColourId));
    g.fillRoundedRectangle(area.reduced(1), lookCorner);
    drawFrame(g, area.reduced(1), box.hasKeyboardFocus(true));
    juce::Path arrow;
    const auto centre = area.withLeft(area.getRight() - 18).getCentre();
    arrow.addTriangle(centre.translated(-4, -2), centre.translated(4, -2), centre.translated(0, 4));
    g.setColour(box.findColour(juce::ComboBox::arrowColourId));
    g.fillPath(arrow);
}

juce::Font Look::getComboBoxFont(juce::ComboBox&) {
    return juce::Font(14);
}

void drawFocus(juce::Graphics& g, juce::Rectangle<float> area) {
    drawFrame(g, area, true);
}

void drawWhole(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area, float height,
               juce::Justification where, bool bold) {
    juce::Font font(height, bold ? juce::Font::bold : juce::Font::plain);
    if (const auto wide = font.getStringWidthFloat(text); wide > area.getWidth() && wide > 0)
        font.setHeight(height * area.getWidth() / wide * 0.99f);
    g.setFont(font);
    g.drawText(text, area, where, false);
}

void drawWrapped(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area, float height,
                 juce::Colour paint) {
    constexpr float smallest = 8;
    for (juce::TextLayout layout;; height -= 1) {
        juce::AttributedString words;
        words.setWordWrap(juce::AttributedString::byWord);
        words.append(text, juce::Font(height), paint);
        layout.createLayout(words, area.getWidth());
        if (layout.getHeight() <= area.getHeight() || height <= smallest)
            return layout.draw(g, area);
    }
}

} // namespace headland::editor
