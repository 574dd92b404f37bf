// SPDX-License-Identifier: GPL-3.0-or-later
#include "Align/Correlation.h"

#include <algorithm>
#include <cmath>
#include <new>

namespace headland::align {

namespace {

double normalised(double product, double energy, double partEnergy, std::size_t count) {
    const auto least = quiet * quiet * static_cast<double>(count);
    return product / std::sqrt(std::max(energy, least) * std::max(partEnergy, least));
}

} // namespace

double correlationAt(std::span<const float> signal, std::span<const float> part,
                     std::ptrdiff_t place) noexcept {
    if (place < 0
        || place + static_cast<std::ptrdiff_t>(part.size()) > static_cast<std::ptrdiff_t>(signal.size()))
        return 0;
    const auto there = signal.subspan(static_cast<std::size_t>(place), part.size());
    auto product = 0.0, energy = 0.0, partEnergy = 0.0;
    for (std::size_t i = 0; i < part.size(); ++i) {
        product += static_cast<double>(there[i]) * part[i];
        energy += static_cast<double>(there[i]) * there[i];
        partEnergy += static_cast<double>(part[i]) * part[i];
    }
    return normalised(product, energy, partEnergy, part.size());
}

Correlator::Correlator()
    : real(fftw_alloc_real(size)),
      spectrum(fftw_alloc_complex(size / 2 + 1)),
      partSpectrum(fftw_alloc_complex(size / 2 + 1)) {
    fftw_make_planner_thread_safe(); // of all who use the library in this process
    if (real && spectrum && partSpectrum) {
        forward.reset(fftw_plan_dft_r2c_1d(size, real.get(), spectrum.get(), FFTW_ESTIMATE));
        backward.reset(fftw_plan_dft_c2r_1d(size, spectrum.get(), real.get(), FFTW_ESTIMATE));
    }
    if (!forward || !backward)
        throw std::bad_alloc();
}

void Correlator::transform(std::span<const float> values) {
    std::fill(std::copy(values.begin(), values.end(), real.get()), real.get() + size, 0.0);
    fftw_execute(forward.get());
}

std::vector<float> Correlator::everywhere(std::span<const float> signal, std::span<const float> part) {
    if (part.empty() || part.size() > partMax || part.size() > signal.size())
        return {};
    transform(part);
    std::copy_n(&spectrum.get()[0][0], 2 * (size / 2 + 1), &partSpectrum.get()[0][0]);
    auto partEnergy = 0.0;
    for (const auto value : part)
        partEnergy += static_cast<double>(value) * value;

    std::vector<double> energies{0}; // of the signal before each value
    energies.reserve(signal.size() + 1);
    for (const auto value : signal)
        energies.push_back(energies.back() + static_cast<double>(value) * value);

    std::vector<float> result(signal.size() - part.size() + 1);
    const auto step = size - part.size() + 1; // places of a block that its ends do not reach
    for (std::size_t from = 0; from < result.size(); from += step) {
        transform(signal.subspan(from, std::min<std::size_t>(size, signal.size() - from)));
        for (int i = 0; i <= size / 2; ++i) {
            auto& a = spectrum.get()[i];
            const auto& b = partSpectrum.get()[i];
            const auto re = a[0] * b[0] + a[1] * b[1], im = a[1] * b[0] - a[0] * b[1];
            a[0] = re;
            a[1] = im;
        }
        fftw_execute(backward.get());
        for (std::size_t i = 0; i < std::min(step, result.size() - from); ++i)
            result[from + i] = static_cast<float>(
                normalised(real.get()[i] / size, energies[from + i + part.size()] - energies[from + i],
                           partEnergy, part.size()));
    }
    return result;
}

} // namespace headland::align
