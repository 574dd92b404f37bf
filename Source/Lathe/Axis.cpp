// SPDX-License-Identifier: GPL-3.0-or-later
#include "Lathe/Axis.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace headland::lathe {

namespace {

constexpr double rounding = 1e-9; ///< relative: a command at exactly the slew limit counts as within it

} // namespace

Axis::Axis(const AxisBehaviour& behaviour, double sampleRate_hz, std::size_t longestLine_samples)
    : step_s(1 / sampleRate_hz),
      lag(behaviour.lag_s),
      slewPerSample_um(behaviour.slew_um_s / sampleRate_hz),
      decay(longestLine_samples + 1, 0.0) {
    for (std::size_t n = 0; n < decay.size() && lag > 0; ++n)
        decay[n] = std::exp(-static_cast<double>(n) * step_s / lag);
    decay[0] = 1;
}

void Axis::start(double value_um) noexcept {
    followed_um = value_um;
    behind_um = 0;
    integral = 0;
    sample = 0;
    follow({value_um, 0}, slewPerSample_um / step_s);
}

void Axis::follow(const CommandLine& line, double slew_um_s) noexcept {
    if (onCommand)
        moveTo(sample);
    sample = 0;
    command = line;
    const auto before_um = std::exchange(slewPerSample_um, slew_um_s * step_s);
    const auto most_um = slewPerSample_um * (1 + rounding) + rounding;
    // Where one line meets the next between two samples the step may be a mixture of both slopes, the steeper of which the
    // spiral drive's may be.
    const auto joint_um = onCommand ? std::max(most_um, before_um * (1 + rounding)) : most_um;
    onCommand = std::abs(line.perSample_um) <= most_um && std::abs(line.value_um - followed_um) <= joint_um;
    ramp_um = lag * line.perSample_um / step_s;
    if (onCommand) {
        behind_um += followed_um - line.value_um; // the axis itself does not jump
        followed_um = line.value_um;
    }
}

double Axis::onLine_um(std::size_t n) const noexcept {
    return followed_um + command.perSample_um * static_cast<double>(n) - ramp_um
           + (behind_um + ramp_um) * decay[n];
}

double Axis::integralOnLine_um_s(std::size_t n, double axis_um) const noexcept {
    const auto count = static_cast<double>(n);
    const auto commanded = followed_um * count + command.perSample_um * count * count / 2;
    return integral + step_s * commanded - lag * (axis_um - (followed_um + behind_um));
}

/// Makes the n-th sample of the line its new start.
void Axis::moveTo(std::size_t n) noexcept {
    const auto axis = onLine_um(n);
    integral = integralOnLine_um_s(n, axis);
    followed_um += command.perSample_um * static_cast<double>(n);
    behind_um = axis - followed_um;
}

/// One sample towards a command that is out of reach.
void Axis::catchUp() noexcept {
    command.value_um += command.perSample_um;
    const auto step_um = std::clamp(command.value_um - followed_um, -slewPerSample_um, slewPerSample_um);
    const auto behindRamp_um = lag * step_um / step_s;
    const auto before_um = followed_um + behind_um;
    behind_um = (behind_um + behindRamp_um) * decay[1] - behindRamp_um;
    integral += step_s * (followed_um + step_um / 2) - lag * (followed_um + step_um + behind_um - before_um);
    followed_um += step_um;
}

void Axis::run(std::span<double> axis_um, std::span<double> integral_um_s) noexcept {
    if (onCommand) {
        for (std::size_t i = 0; i < axis_um.size(); ++i) {
            axis_um[i] = onLine_um(sample + i);
            integral_um_s[i] = integralOnLine_um_s(sample + i, axis_um[i]);
        }
        sample += axis_um.size();
        return;
    }
    for (std::size_t i = 0; i < axis_um.size(); ++i) {
        axis_um[i] = followed_um + behind_um;
        integral_um_s[i] = integral;
        catchUp();
    }
}

double Axis::axis_um() const noexcept {
    return onCommand ? onLine_um(sample) : followed_um + behind_um;
}

double Axis::integral_um_s() const noexcept {
    return onCommand ? integralOnLine_um_s(sample, axis_um()) : integral;
}

} // namespace headland::lathe
