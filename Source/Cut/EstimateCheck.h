// SPDX-License-Identifier: GPL-3.0-or-later
// How good the rolling estimate was: what it said of the end diameter at a quarter, a half and three quarters of the
// side, to be held against where the program did end. On the engine's thread.
#pragma once

#include "Cut/CutFrame.h"

#include <algorithm>
#include <array>

namespace headland::cut {

/// What the estimate said at one place.
struct Forecast {
    double share = 0;  ///< of the side's length
    double time_s = 0; ///< program time; meaningless while not seen
    disc::DiscEstimate estimate{};
    bool seen = false;
};

/// Picks the forecasts, and the last estimate of all, from the frames.
class EstimateCheck : public FrameSink {
public:
    /// `length_s`: of the program, as the file tells it.
    explicit EstimateCheck(double length_s) : programLength_s(length_s) {
        for (std::size_t i = 0; i < picked.size(); ++i)
            picked[i].share = 0.25 * static_cast<double>(i + 1);
    }

    /// Whether a forecast is picked from this frame, so that its estimate is needed.
    bool picks(const CutFrame& frame) const noexcept {
        return frame.state == State::program
               && std::any_of(picked.begin(), picked.end(),
                              [&](const auto& forecast) { return isDue(forecast, frame); });
    }

    void frame(const CutFrame& frame) noexcept override {
        if (frame.state != State::program)
            return;
        for (auto& forecast : picked)
            if (isDue(forecast, frame))
                forecast = {forecast.share, frame.time_s, frame.estimate, true};
        final = {1.0, frame.time_s, frame.estimate, true};
    }

    const std::array<Forecast, 3>& forecasts() const noexcept { return picked; }
    /// The estimate at the last sector of the program.
    const Forecast& last() const noexcept { return final; }

private:
    bool isDue(const Forecast& forecast, const CutFrame& frame) const noexcept {
        return !forecast.seen && frame.time_s >= forecast.share * programLength_s;
    }

    double programLength_s;
    std::array<Forecast, 3> picked{};
    Forecast final{};
};

} // namespace headland::cut
