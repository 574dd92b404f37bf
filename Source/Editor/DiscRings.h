// SPDX-License-Identifier: GPL-3.0-or-later
// The turns of a side as rings in an image: how much of each twentieth of a millimetre of radius is cut, and how wide the
// turns are there. The image is kept, and only the rings that have come since are drawn into it. Radii in mm. Main thread.
#pragma once

#include "Cut/CutFrame.h"

#include <juce_graphics/juce_graphics.h>

#include <vector>

namespace headland::editor {

class DiscRings {
public:
    /// Nothing cut yet. Pitches as narrow as `least_um` have the one end of the shades, as wide as `greatest_um` the other.
    void begin(double discRadius_mm, double pitchLeast_um, double pitchGreatest_um);

    /// The next frame of the cut, begun at this radius. Only what is program counts.
    void add(const cut::CutFrame& frame, double fromRadius_mm);

    /// The disc's square, `size_px` on a side, its middle in the middle; what was added last is drawn now.
    const juce::Image& image(int size_px);

    /// Of turns this far apart.
    juce::Colour shadeOf(double pitch_um) const;

    /// Pixels written since begin(), for whoever wants to know what it costs.
    std::int64_t pixelsDrawn() const noexcept { return pixels; }

private:
    struct Slice {
        double cut_mm = 0;   ///< of its width
        double place_mm = 0; ///< the same times the place among the shades, 0 to 1
    };
    double placeOf(double pitch_um) const;
    juce::PixelARGB pixelAt(double inner_mm, double outer_mm) const;
    void drawRings();
    Slice sumTo(double radius_mm) const;

    double discRadius_mm = 0, pitchLeast_um = 1, pitchGreatest_um = 2;
    std::vector<Slice> slices, sums; ///< from the middle outwards; sums[i]: of all slices before i
    double dirtyInner_mm = 0, dirtyOuter_mm = 0; ///< equal: nothing
    juce::Image rings;
    std::int64_t pixels = 0;
};

} // namespace headland::editor
