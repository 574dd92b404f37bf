// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/FileCut.h"

#include "Text/Figures.h"

#include <algorithm>
#include <exception>

namespace headland::plugin {

FileCut::FileCut(Processor& p, const std::string& path, double howFast,
                 const cut::RehearsedProgram& rehearsed)
    : Thread("Headland file"),
      processor(p),
      file(files::ProgramFile::open(path)),
      facts(files::factsOf(file, path)),
      speed(howFast) {
    processor.takeFromDevice({juce::File::getCurrentWorkingDirectory()
                                  .getChildFile(juce::String::fromUTF8(path.c_str()))
                                  .getFullPathName()
                                  .toStdString(),
                              facts},
                             rehearsed);
    if (const auto problems = processor.service().report().problems; !problems.empty()) {
        processor.giveToDevice();
        throw std::runtime_error(text::joined(problems));
    }
    startThread();
}

FileCut::~FileCut() {
    stopThread(-1);
    processor.giveToDevice();
}

void FileCut::run() {
    due_ms = juce::Time::getMillisecondCounterHiRes();
    try {
        cutAll();
    } catch (const std::exception& problem) { // the disk; what has been cut is cut
        failure_ = problem.what();
        processor.audio().cue(cut::Cue::lift);
        processor.audio().end();
    }
    processor.service().step();
    done.set(1);
}

void FileCut::cutAll() {
    auto& audio = processor.audio();
    const auto& setup = audio.current()->setup();
    const auto preview = audio.current()->latency_samples();
    const auto before = silenceBefore_samples(setup);
    programStart_samples = before + preview;
    audio.cue(cut::Cue::leadIn);
    passSilence(before);
    passProgram();
    left.fill(0);
    right.fill(0);
    passSilence(preview);
    if (!isOver()) // lifted by hand meanwhile
        audio.cue(cut::Cue::leadOut);
    while (!threadShouldExit() && !isOver())
        pass(blockLength);
}

/// The stylus has come up again, by itself or lifted by somebody.
bool FileCut::isOver() const noexcept {
    return passed_samples > 0 && processor.audio().current()->isIdle();
}

void FileCut::passSilence(std::int64_t samples) {
    while (samples > 0 && !threadShouldExit() && !isOver()) {
        const auto count = static_cast<int>(std::min<std::int64_t>(samples, blockLength));
        pass(count);
        samples -= count;
    }
}

void FileCut::passProgram() {
    while (!threadShouldExit() && !isOver()) {
        const auto count = file.read(left.data(), right.data(), blockLength);
        if (count == 0)
            return;
        pass(count);
        fraction_.set(static_cast<double>(file.position_frames())
                      / static_cast<double>(std::max<std::int64_t>(1, file.length_frames())));
    }
}

void FileCut::pass(int count) {
    auto& audio = processor.audio();
    auto outLeft = left, outRight = right; // what would be heard
    audio.begin(std::nullopt);
    audio.process(
        {left.data(), right.data(), nullptr, nullptr, outLeft.data(), outRight.data(), nullptr, nullptr},
        count, processor.liveSettings());
    audio.end();
    passed_samples += count;
    keepPace(count);
    waitWhilePaused();
}

/// Waits for the clock, or at least for whoever takes the frames. The speed may have changed: what is due counts on from
/// the last block, and time that was lost is not made up for.
void FileCut::keepPace(int count) {
    constexpr std::int64_t blocksBetweenSteps = 64;
    constexpr double late_ms = 200;
    const auto wanted = speed.get();
    if (wanted <= 0) {
        if (passed_samples / blockLength % blocksBetweenSteps == 0)
            processor.service().step();
        return;
    }
    const auto now_ms = juce::Time::getMillisecondCounterHiRes();
    due_ms = std::max(due_ms, now_ms - late_ms) + 1000.0 * count / (facts.sampleRate_hz * wanted);
    if (const auto early_ms = due_ms - now_ms; early_ms >= 1)
        wait(static_cast<int>(early_ms));
}

void FileCut::waitWhilePaused() {
    constexpr int look_ms = 10;
    const auto time_s = static_cast<double>(passed_samples - programStart_samples) / facts.sampleRate_hz;
    if (time_s >= pauseTime_s.get()) {
        pauseTime_s.set(std::numeric_limits<double>::infinity());
        pause(true);
    }
    while (isPaused() && !threadShouldExit()) {
        processor.audio().end(); // whoever looks is answered meanwhile
        processor.service().step();
        wait(look_ms);
    }
}

} // namespace headland::plugin
