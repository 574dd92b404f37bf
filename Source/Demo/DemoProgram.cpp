// SPDX-License-Identifier: GPL-3.0-or-later
// Plays the score one sample at a time, so that the block size cannot matter. See the header.
#include "Demo/DemoProgram.h"

#include <sstream>
#include <stdexcept>

namespace headland::demo {
namespace {

constexpr double fadeOut_s = 3.0; // at the beginning every note fades in by itself

double checkedRate(double sampleRate_hz) {
    if (sampleRate_hz >= 44100 && sampleRate_hz <= 192000)
        return sampleRate_hz;
    std::ostringstream words;
    words << "The demo program cannot be made at " << sampleRate_hz
          << " Hz: choose a sample rate from 44100 to 192000 Hz.";
    throw std::invalid_argument(words.str());
}

template <typename Sounds>
void addAll(Sounds& sounds, Frame& frame) {
    for (auto& sound : sounds)
        sound.add(frame);
    std::erase_if(sounds, [](const auto& sound) { return sound.ended(); });
}

} // namespace

DemoProgram::DemoProgram(double rate_hz)
    : sampleRate_hz(checkedRate(rate_hz)),
      length_samples(std::llround(programLength_s * rate_hz)),
      score(writeScore()),
      hall(rate_hz) {}

void DemoProgram::render(float* left, float* right, int frames) {
    for (int i = 0; i < frames; ++i) {
        const Frame frame = position_samples < length_samples ? next() : Frame{};
        left[i] = static_cast<float>(frame.left);
        right[i] = static_cast<float>(frame.right);
    }
}

void DemoProgram::beginDue() {
    const double now_s = static_cast<double>(position_samples) / sampleRate_hz;
    for (; nextNote < score.notes.size() && score.notes[nextNote].start_s <= now_s; ++nextNote)
        desks.emplace_back(score.notes[nextNote], sampleRate_hz, chance);
    for (; nextStroke < score.strokes.size() && score.strokes[nextStroke].start_s <= now_s; ++nextStroke)
        struck.emplace_back(score.strokes[nextStroke], sampleRate_hz);
}

Frame DemoProgram::next() {
    beginDue();
    Frame frame;
    addAll(desks, frame);
    addAll(struck, frame);
    hall.add(frame);
    const double fade =
        smooth(static_cast<double>(length_samples - position_samples) / (fadeOut_s * sampleRate_hz));
    frame.left *= fade;
    frame.right *= fade;
    ++position_samples;
    return frame;
}

} // namespace headland::demo
