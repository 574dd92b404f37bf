// SPDX-License-Identifier: GPL-3.0-or-later
// Cuts a program file through the processor, without a host and without an audio device: its own thread takes the audio
// thread's place, in real time or as fast as the machine allows. The side is that of the command-line tool: lead-in, the
// program from its first sample to its last, lead-out, finishing groove; the frames are the same.
// Threads: made, asked and destroyed on the main thread.
#pragma once

#include "Cut/RehearsedProgram.h"
#include "Files/ProgramFacts.h"
#include "Files/ProgramFile.h"
#include "HandOff/Cell.h"
#include "Plugin/Processor.h"

#include <juce_core/juce_core.h>

#include <array>
#include <limits>
#include <string>

namespace headland::plugin {

class FileCut : private juce::Thread {
public:
    /// Opens the program, takes the processor from its device and begins. `speed`: so many times real time; 0: as fast
    /// as the machine allows. `rehearsed`: what a rehearsal of this file has left; nothing: there was none. Throws std::runtime_error, with one sentence, when the file or the set-up cannot be cut.
    FileCut(Processor& processor, const std::string& path, double speed,
            const cut::RehearsedProgram& rehearsed = {});
    /// Lifts the stylus if it is down, and gives the processor back to its device.
    ~FileCut() override;

    /// From now on, as the constructor's.
    void setSpeed(double wanted) noexcept { speed.set(wanted); }
    /// Holds the cut between two blocks, or lets it go on.
    void pause(bool wanted) noexcept { paused.set(wanted ? 1 : 0); }
    /// Pauses by itself when the stylus is at this program time.
    void pauseAt(double time_s) noexcept { pauseTime_s.set(time_s); }
    bool isPaused() const noexcept { return paused.get() != 0; }

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
    void keepPace(int count);
    void waitWhilePaused();

    Processor& processor;
    files::ProgramFile file;
    files::ProgramFacts facts;
    handoff::Cell<double> speed;
    handoff::Cell<int> paused{0};
    handoff::Cell<double> pauseTime_s{std::numeric_limits<double>::infinity()};
    std::int64_t programStart_samples = 0; ///< passed when the program's first sample is under the stylus
    std::array<float, blockLength> left{}, right{};
    std::int64_t passed_samples = 0;
    double due_ms = 0; ///< when the next block is to be passed
    std::string failure_;
    handoff::Cell<int> done{0};
    handoff::Cell<double> fraction_{0};
};

} // namespace headland::plugin
