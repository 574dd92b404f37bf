// SPDX-License-Identifier: GPL-3.0-or-later
// A struck drum or plate: a few damped sine modes, each with its own level and sign in each channel. A mode is a
// complex number turned and shrunk once a sample. Times in samples. One thread at a time.
#pragma once

#include "Demo/Frame.h"
#include "Demo/Score.h"

#include <complex>
#include <vector>

namespace headland::demo {

/// One stroke, from the contact until it is 80 dB down.
class Struck {
public:
    Struck(const Stroke& stroke, double sampleRate_hz) : contact_samples(stroke.contact_s * sampleRate_hz) {
        constexpr double timeConstantsTo80db = 9.21;
        for (const Mode& mode : stroke.modes) {
            const std::complex<double> pole(-1.0 / mode.decay_s, 2 * pi * mode.frequency_hz);
            const auto turn = std::exp(pole / sampleRate_hz);
            modes.push_back({std::polar(1.0, mode.phase), turn, mode.left, mode.right});
            length_samples = std::max(length_samples, timeConstantsTo80db * mode.decay_s * sampleRate_hz);
        }
    }

    void add(Frame& frame) {
        constexpr double send = 0.05; // drums and plates stand close to the microphones
        const double contact = smooth(age_samples / contact_samples);
        for (Ringing& mode : modes) {
            const double sound = contact * mode.state.imag();
            frame.left += mode.left * sound;
            frame.right += mode.right * sound;
            frame.send += send * (mode.left + mode.right) * sound;
            mode.state *= mode.turn;
        }
        age_samples += 1;
    }

    bool ended() const { return age_samples >= length_samples; }

private:
    struct Ringing {
        std::complex<double> state, turn;
        double left, right;
    };
    std::vector<Ringing> modes;
    double age_samples = 0, contact_samples, length_samples = 0;
};

} // namespace headland::demo
