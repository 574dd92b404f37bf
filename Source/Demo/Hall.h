// SPDX-License-Identifier: GPL-3.0-or-later
// The hall: eight delay lines that feed each other through a Householder reflection, damped at the top. The sum of
// the lines goes to both channels alike, a difference of them out of phase, and the difference is the louder: a
// vertical groove. Delays in samples, full scale = 1. One thread at a time.
#pragma once

#include "Demo/Frame.h"

#include <array>
#include <vector>

namespace headland::demo {

class Hall {
public:
    explicit Hall(double sampleRate_hz)
        : damping(onePole(5000, sampleRate_hz)), bassCut(onePole(400, sampleRate_hz)) {
        constexpr std::array<double, 8> delay_s{0.0371, 0.0431, 0.0477, 0.0541,
                                                0.0593, 0.0661, 0.0719, 0.0797};
        constexpr double reverberation_s = 2.8; // time to fall by 60 dB
        for (std::size_t i = 0; i < lines.size(); ++i) {
            lines[i].ring.assign(static_cast<std::size_t>(std::lround(delay_s[i] * sampleRate_hz)), 0.0);
            lines[i].gain = gainOf(-60 * delay_s[i] / reverberation_s);
        }
    }

    /// Takes in frame.send and adds the room's answer to both channels.
    void add(Frame& frame) {
        double sum = 0, difference = 0, sign = 1;
        for (Line& line : lines) {
            line.damped += damping * (line.gain * line.ring[line.place] - line.damped);
            sum += line.damped;
            difference += sign * line.damped;
            sign = -sign;
        }
        for (Line& line : lines) {
            line.ring[line.place] = frame.send + line.damped - sum / 4;
            line.place = line.place + 1 < line.ring.size() ? line.place + 1 : 0;
        }
        bass +=
            bassCut * (difference - bass); // kept out of the vertical, or the loud hall would lift the cut
        frame.left += inPhase * sum + outOfPhase * (difference - bass);
        frame.right += inPhase * sum - outOfPhase * (difference - bass);
    }

private:
    struct Line {
        std::vector<double> ring;
        std::size_t place = 0;
        double gain = 0, damped = 0;
    };

    static double onePole(double corner_hz, double sampleRate_hz) {
        return 1 - std::exp(-2 * pi * corner_hz / sampleRate_hz);
    }

    static constexpr double inPhase = 0.10, outOfPhase = 0.29;
    std::array<Line, 8> lines;
    double damping, bassCut, bass = 0;
};

} // namespace headland::demo
