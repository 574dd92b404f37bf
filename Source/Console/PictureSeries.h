// SPDX-License-Identifier: GPL-3.0-or-later
// What the picture needs of the frames, kept bounded: the series against program time and the flags. Values are those
// of program sectors; lead-in and lead-out leave gaps but keep their flags. On the thread that runs the engine.
#pragma once

#include "Console/SeriesDecimator.h"
#include "Cut/CutFrame.h"
#include "Cut/CutSettings.h"

#include <limits>

namespace headland::console {

/// The series of the picture, in the decimator's order.
enum class Series : std::size_t {
    pitch,
    pitchCommand,
    demand,
    depth,
    depthCommand,
    land,
    diameter,
    endDiameter
};

inline constexpr std::size_t pictureSeriesCount = 8;

/// Collects the picture's series from frames.
class PictureSeries : public cut::FrameSink {
public:
    using Decimator = SeriesDecimator<pictureSeriesCount>;
    static constexpr std::size_t capacity = 2048; ///< bins: more than a picture has columns

    explicit PictureSeries(const cut::CutSettings& settings)
        : decimator(capacity), sector_s(settings.turn_s() / settings.sectors_per_turn) {}

    void frame(const cut::CutFrame& f) noexcept override {
        constexpr auto none = std::numeric_limits<double>::quiet_NaN();
        std::array<double, pictureSeriesCount> values;
        values.fill(none);
        if (f.state == cut::State::program || f.state == cut::State::band)
            values = {f.pitch_um,        f.pitchCommand_um, f.demand_um,     f.depth_um,
                      f.depthCommand_um, f.landMin_um,      2 * f.radius_mm, f.estimate.endDiameter_mm};
        decimator.add(f.time_s - sector_s, f.time_s, values, f.flags);
    }

    std::span<const Decimator::Bin> bins() const noexcept { return decimator.bins(); }

private:
    Decimator decimator;
    double sector_s;
};

/// One series of a bin.
inline const SeriesRange& rangeOf(const PictureSeries::Decimator::Bin& bin, Series series) noexcept {
    return bin.series[static_cast<std::size_t>(series)];
}

} // namespace headland::console
