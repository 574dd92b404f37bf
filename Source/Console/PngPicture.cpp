// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/PngPicture.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <stdexcept>

namespace headland::console {

std::string pngBytes(const SvgDrawing& drawing) {
    const juce::ScopedJuceInitialiser_GUI
        initialiser; // drawables are components, which want a message thread
    const auto drawable = juce::Drawable::createFromSVG(drawing.xml());
    if (drawable == nullptr)
        throw std::runtime_error("the picture could not be read back as SVG");
    juce::Image image(juce::Image::RGB, drawing.xml().getIntAttribute("width"),
                      drawing.xml().getIntAttribute("height"), true, juce::SoftwareImageType());
    {
        juce::Graphics graphics(image);
        drawable->draw(graphics, 1.0f);
    }
    juce::MemoryOutputStream bytes;
    if (!juce::PNGImageFormat().writeImageToStream(image, bytes))
        throw std::runtime_error("the picture could not be stored as PNG");
    return {static_cast<const char*>(bytes.getData()), bytes.getDataSize()};
}

} // namespace headland::console
