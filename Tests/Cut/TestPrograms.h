// SPDX-License-Identifier: GPL-3.0-or-later
// Programs for engine tests, and a sink that keeps every frame. Invented signals, the same on every machine.
#pragma once

#include "Cut/CutEngine.h"
#include "Tests/Support/Random.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <numbers>
#include <vector>

namespace headland::test {

struct Program {
    double rate_hz = 44100;
    std::vector<float> left, right;

    std::size_t length() const { return left.size(); }
};

inline Program silence(double seconds, double rate_hz = 44100) {
    const auto count = static_cast<std::size_t>(seconds * rate_hz);
    return {rate_hz, std::vector<float>(count, 0.0f), std::vector<float>(count, 0.0f)};
}

/// Adds a sine to one or both channels; `rightSign` −1 for anti-phase, 0 for left only.
inline void addTone(Program& p, double start_s, double length_s, double frequency_hz, double amplitude,
                    double leftSign = 1, double rightSign = 1) {
    const auto first = static_cast<std::size_t>(start_s * p.rate_hz);
    const auto last = std::min(p.length(), static_cast<std::size_t>((start_s + length_s) * p.rate_hz));
    for (auto i = first; i < last; ++i) {
        const auto t = static_cast<double>(i - first) / p.rate_hz;
        const auto fade = std::min({1.0, t / 0.005, static_cast<double>(last - i) / p.rate_hz / 0.005});
        const auto x = amplitude * fade * std::sin(2 * std::numbers::pi * frequency_hz * t);
        p.left[i] += static_cast<float>(leftSign * x);
        p.right[i] += static_cast<float>(rightSign * x);
    }
}

/// Tones of all pitches and strengths one after and over another, some in one channel, some out of phase.
inline Program randomProgram(unsigned seed, double seconds, double rate_hz = 44100) {
    auto p = silence(seconds, rate_hz);
    Random random(seed);
    for (double t = 0; t < seconds; t += random.between(0.02, 0.4)) {
        const auto frequency = 40 * std::pow(200.0, random.unit());
        const auto amplitude = 0.35 * random.unit() * random.unit();
        addTone(p, t, random.between(0.03, 0.8), frequency, amplitude, random.between(-0.3, 1),
                random.between(-0.3, 1));
    }
    return p;
}

class FrameKeeper : public cut::FrameSink {
public:
    void frame(const cut::CutFrame& f) noexcept override { frames.push_back(f); }
    std::vector<cut::CutFrame> frames;
};

/// Where a second cut begins among the frames: the turns start anew.
inline std::vector<cut::CutFrame>::const_iterator secondCut(const std::vector<cut::CutFrame>& frames) {
    const auto last = std::adjacent_find(frames.begin(), frames.end(),
                                         [](const auto& a, const auto& b) { return b.turn < a.turn; });
    return last == frames.end() ? last : last + 1;
}

inline std::vector<cut::CutFrame> cutAll(const cut::CutSettings& settings, const Program& p,
                                         std::size_t block = 4096) {
    cut::CutEngine engine;
    engine.prepare(settings, p.rate_hz);
    FrameKeeper keeper;
    for (std::size_t i = 0; i < p.length(); i += block)
        engine.process(&p.left[i], &p.right[i], static_cast<int>(std::min(block, p.length() - i)), keeper);
    engine.finish(keeper);
    return std::move(keeper.frames);
}

} // namespace headland::test
