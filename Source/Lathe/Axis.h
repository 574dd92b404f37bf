// SPDX-License-Identifier: GPL-3.0-or-later
// One simulated axis of the lathe, sample by sample: follows a command that runs in straight lines from sector to
// sector, no faster than its slew, behind it by a first-order lag. On a line within its slew the axis is taken from
// the line's start each time, so that nothing depends on how the samples are blocked; a command too fast for it is
// caught up with step by step. The planner has a model of its own (Plan/RampModel); this is the other code path.
// Sized at construction; audio thread.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace headland::lathe {

/// How an axis really behaves.
struct AxisBehaviour {
    double slew_um_s; ///< the command is followed no faster than this
    double lag_s;     ///< first order
};

/// A straight stretch of command: `value` at the first sample, `perSample` more at each later one.
struct CommandLine {
    double value_um;
    double perSample_um;
};

class Axis {
public:
    Axis() = default;
    /// `longestLine_samples` is the most samples ever run between two calls of follow().
    Axis(const AxisBehaviour& behaviour, double sampleRate_hz, std::size_t longestLine_samples);

    /// Puts the axis at rest at a value.
    void start(double value_um) noexcept;

    /// Follows a command from now on, no faster than `slew_um_s` (the spiral drive has its own).
    void follow(const CommandLine& line, double slew_um_s) noexcept;

    /// The axis at each of the next samples, and its integral since start(), µm·s.
    void run(std::span<double> axis_um, std::span<double> integral_um_s) noexcept;

    /// The axis at the next sample to come.
    double axis_um() const noexcept;
    /// Its integral since start() up to there, µm·s.
    double integral_um_s() const noexcept;

private:
    double onLine_um(std::size_t sample) const noexcept;
    double integralOnLine_um_s(std::size_t sample, double axis_um) const noexcept;
    void moveTo(std::size_t sample) noexcept;
    void catchUp() noexcept;

    double step_s = 1, lag = 0, slewPerSample_um = 0;
    std::vector<double> decay{1.0}; ///< what is left of a lag after so many samples
    CommandLine command{0, 0};
    bool onCommand = true; ///< within its slew: the followed value is the command itself
    double ramp_um = 0;    ///< how far behind the axis ends up on this line
    double followed_um =
        0; ///< command at the line's start (catching up: now), as far as the slew lets it be followed
    double behind_um = 0;   ///< axis minus followed, at the same moment
    double integral = 0;    ///< up to the same moment
    std::size_t sample = 0; ///< samples since the line's start
};

} // namespace headland::lathe
