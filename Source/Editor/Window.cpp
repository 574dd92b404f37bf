// SPDX-License-Identifier: GPL-3.0-or-later
#include "Editor/Window.h"

namespace headland::editor {

Window::Window(juce::AudioProcessor& processorShown, Access& access)
    : AudioProcessorEditor(processorShown), content(access) {
    addAndMakeVisible(content);
    setOpaque(true);
    setResizable(true, false);
    setResizeLimits(widthLeast, heightLeast, 8 * widthLeast, 8 * heightLeast);
    setSize(1200, 750);
}

void Window::resized() {
    const auto width = static_cast<float>(getWidth()), height = static_cast<float>(getHeight());
    const auto scale = std::min(width / widthLeast, height / heightLeast);
    content.setTransform(juce::AffineTransform::scale(scale));
    content.setBounds(0, 0, juce::roundToInt(std::ceil(width / scale)),
                      juce::roundToInt(std::ceil(height / scale)));
}

} // namespace headland::editor
