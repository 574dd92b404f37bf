// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts an invented program through the whole engine and keeps every frame; tones with their closed forms.
#pragma once

#include "Cut/CutEngine.h"
#include "Groove/RecordingCharacteristic.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <memory>
#include <numbers>
#include <vector>

namespace headland::test {

/// Keeps the frames.
class FrameList : public cut::FrameSink {
public:
    void frame(const cut::CutFrame& f) noexcept override { frames.push_back(f); }
    std::vector<cut::CutFrame> frames;
};

/// Cuts `length_s` of program; `sampleAt(i)` gives left and right of sample i as an array of two floats.
template <typename SampleAt>
std::vector<cut::CutFrame> cutProgram(const cut::CutSettings& settings, double sampleRate_hz, double length_s,
                                      SampleAt sampleAt, std::shared_ptr<const plan::Profile> profile = {}) {
    constexpr std::int64_t block = 4096;
    std::array<float, block> left, right;
    cut::CutEngine engine;
    engine.prepare(settings, sampleRate_hz, {}, profile);
    engine.rehearsed();
    FrameList list;
    const std::int64_t length = std::llround(length_s * sampleRate_hz);
    for (std::int64_t at = 0; at < length; at += block) {
        const auto size = std::min(block, length - at);
        for (std::int64_t i = 0; i < size; ++i) {
            const std::array<float, 2> sample = sampleAt(at + i);
            left[static_cast<std::size_t>(i)] = sample[0];
            right[static_cast<std::size_t>(i)] = sample[1];
        }
        engine.process(left.data(), right.data(), static_cast<int>(size), list);
    }
    engine.finish(list);
    return std::move(list.frames);
}

/// A steady tone, faded in over half a second so that the high-pass settles; gains of the left and right channel.
struct Tone {
    double frequency_hz;
    double peak_dbfs;
    double leftGain = 1, rightGain = 1;

    std::array<float, 2> at(std::int64_t sample, double sampleRate_hz) const {
        constexpr double fade_s = 0.5;
        const auto t = static_cast<double>(sample) / sampleRate_hz;
        const auto rise = t < fade_s ? (1 - std::cos(std::numbers::pi * t / fade_s)) / 2 : 1.0;
        const auto value =
            rise * std::pow(10.0, peak_dbfs / 20) * std::sin(2 * std::numbers::pi * frequency_hz * t);
        return {static_cast<float>(leftGain * value), static_cast<float>(rightGain * value)};
    }

    /// Peak velocity of a wall whose gain is 1, µm/s: the groove model's formula, high-pass included.
    double velocity_um_s(const cut::CutSettings& s) const {
        const auto response = std::abs(groove::recordingCharacteristic(frequency_hz)
                                       * groove::chainHighpass(frequency_hz, s.highpass_hz));
        return s.reference_velocity_cm_s * 1e4
               * std::pow(10.0, (peak_dbfs - s.alignment_dbfs + s.disc_level_db) / 20) * response;
    }
    double displacement_um(const cut::CutSettings& s) const { return velocity_um_s(s) / angular(); }
    double acceleration_um_s2(const cut::CutSettings& s) const { return velocity_um_s(s) * angular(); }
    double angular() const { return 2 * std::numbers::pi * frequency_hz; }
};

inline std::vector<cut::CutFrame> cutTone(const cut::CutSettings& settings, double sampleRate_hz,
                                          double length_s, const Tone& tone) {
    return cutProgram(settings, sampleRate_hz, length_s,
                      [&](std::int64_t i) { return tone.at(i, sampleRate_hz); });
}

/// The frames of program whose sector ends between these program times.
inline std::vector<cut::CutFrame> between(const std::vector<cut::CutFrame>& frames, double from_s,
                                          double to_s) {
    std::vector<cut::CutFrame> result;
    std::copy_if(frames.begin(), frames.end(), std::back_inserter(result), [&](const cut::CutFrame& f) {
        return f.state == cut::State::program && f.time_s >= from_s && f.time_s <= to_s;
    });
    return result;
}

/// Least and greatest of one figure over frames.
struct Range {
    double least, greatest;
};

inline Range rangeOf(const std::vector<cut::CutFrame>& frames, double cut::CutFrame::*figure) {
    const auto [least, greatest] = std::minmax_element(
        frames.begin(), frames.end(), [=](const auto& a, const auto& b) { return a.*figure < b.*figure; });
    return {(*least).*figure, (*greatest).*figure};
}

/// Ordinary settings with the pitch held.
inline cut::CutSettings atConstantPitch(double pitch_um) {
    cut::CutSettings settings;
    settings.pitch_min_um = settings.pitch_max_um = pitch_um;
    return settings;
}

} // namespace headland::test
