// SPDX-License-Identifier: GPL-3.0-or-later
// Where a part lies in a signal: the normalised correlation at every place, by Fourier transforms (FFTW) over blocks that
// overlap, so that memory does not grow with the signal; and at one place, by the sum that defines it. Deterministic: FFTW
// measures nothing. One thread at a time, not the audio thread.
#pragma once

#include <fftw3.h>

#include <memory>
#include <span>
#include <vector>

namespace headland::align {

/// A signal and a part that move by less than this (root mean square) are taken to move by as much: silence and steady tones
/// correlate with nothing.
inline constexpr double quiet = 0.03;

/// The correlation of `part` with the signal's values from `place` on: −1 to 1, 1 for the same values but for a factor; 0 where
/// the part would not lie wholly in the signal.
double correlationAt(std::span<const float> signal, std::span<const float> part,
                     std::ptrdiff_t place) noexcept;

class Correlator {
public:
    /// Parts of at most this many values.
    static constexpr int partMax = 4096;

    Correlator();

    /// correlationAt() for every place at which the part lies wholly in the signal, to within 1e-5; empty if there is none or
    /// the part is empty or longer than partMax.
    std::vector<float> everywhere(std::span<const float> signal, std::span<const float> part);

private:
    static constexpr int size = 1 << 15; ///< of a transform

    struct Free {
        void operator()(double* memory) const noexcept { fftw_free(memory); }
        void operator()(fftw_complex* memory) const noexcept { fftw_free(memory); }
        void operator()(fftw_plan_s* plan) const noexcept { fftw_destroy_plan(plan); }
    };
    /// The transform of `values`, with zeros behind them, in `spectrum`.
    void transform(std::span<const float> values);

    std::unique_ptr<double, Free> real;
    std::unique_ptr<fftw_complex, Free> spectrum, partSpectrum;
    std::unique_ptr<fftw_plan_s, Free> forward, backward;
};

} // namespace headland::align
