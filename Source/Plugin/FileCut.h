// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts a program file through the processor, without a host and without an audio device: its own thread takes the audio
// thread's place, in real time or as fast as the machine allows. The side is that of the command-line tool: lead-in, the
// program from its first sample to its last, lead-out, finishing groove; the frames are the same.
// Threads: made, asked and destroyed on the main thread.
#pragma once

#include "Files/ProgramFacts.h"
#include "Files/ProgramFile.h"
#include "HandOff/Cell.h"
#include "Plugin/Processor.h"

#include <juce_core/juce_core.h>

#include <array>
#include <string>

namespace headland::plugin {

class FileCut : private juce::Thread {
public:
    /// Opens the program, takes the processor from its device and begins. `speed`: so many times real time; 0: as fast
    /// as the machine allows. Throws std::runtime_error, with one sentence, when the file or the set-up cannot be cut.
    FileCut(Processor& processor, const std::string& path, double speed);
    /// Lifts the stylus if it is down, and gives the processor back to its device.
    ~FileCut() override;

    bool isDone() const noexcept { return done.get() != 0; }
    /// How much of the side has been cut, 0 to 1.
    double fraction() const noexcept { return fraction_.get(); }
    const files::ProgramFacts& program() const noexcept { return facts; }
    /// Why the program could not be read to its end, one sentence; empty when it could. To be asked when it is done.
    const std::string& failure() const noexcept { return failure_; }

private:
    static constexpr int blockLength = 512;

    void run() override;
    void cutAll();
    void pass(int count);
    void passSilence(std::int64_t samples);
    void passProgram();
    bool isOver() const noexcept;
    void keepPace();

    Processor& processor;
    files::ProgramFile file;
    files::ProgramFacts facts;
    double speed;
    std::array<float, blockLength> left{}, right{};
    std::int64_t passed_samples = 0;
    std::int64_t begun_ms = 0;
    std::string failure_;
    handoff::Cell<int> done{0};
    handoff::Cell<double> fraction_{0};
};

} // namespace headland::plugin
