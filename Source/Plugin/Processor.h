// SPDX-License-Identifier: GPL-3.0-or-later
// The audio processor as a host sees it: buses, parameters, programs, state, latency. What is cut is AudioSide's, what
// takes time is Service's; this only joins them to JUCE.
// Threads: processBlock and processBlockBypassed on the audio thread, the rest on the host's main thread.
#pragma once

#include "Plugin/AudioSide.h"
#include "Plugin/OscOut.h"
#include "Plugin/Parameters.h"
#include "Plugin/Service.h"
#include "Plugin/StateText.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <array>
#include <functional>

namespace headland::plugin {

class Processor final : public juce::AudioProcessor, private juce::AsyncUpdater {
public:
    /// Places of the buses, as the host counts them.
    static constexpr int programBus = 0;
    static constexpr int previewBus = 1; ///< among the inputs
    static constexpr int controlBus = 1; ///< among the outputs: channel 0 is pitch, channel 1 is depth

    /// Makes the window for a processor; the library itself has none.
    using MakeEditor = std::function<juce::AudioProcessorEditor*(Processor&)>;

    explicit Processor(MakeEditor makeEditor = {});
    ~Processor() override;

    const juce::String getName() const override { return "Headland"; }
    bool acceptsMidi() const override { return true; }
    bool producesMidi() const override { return false; }
    double getTailLengthSeconds() const override;

    /// Takes a mono or stereo program, the same in and out; a preview laid out as the program, or none; a control
    /// output of two channels, or none.
    bool isBusesLayoutSupported(const BusesLayout& layout) const override;
    void prepareToPlay(double sampleRate_hz, int blockSizeMax) override;
    void releaseResources() override;
    void processBlock(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) override;
    void processBlockBypassed(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) override;
    using AudioProcessor::processBlock; // double precision stays refused, as JUCE's default has it
    using AudioProcessor::processBlockBypassed;

    bool hasEditor() const override { return makeEditor != nullptr; }
    juce::AudioProcessorEditor* createEditor() override;

    /// The first program is the set-up as it is; the others are the presets of Presets/, each put over the present set-up.
    int getNumPrograms() override;
    int getCurrentProgram() override { return program; }
    void setCurrentProgram(int index) override;
    const juce::String getProgramName(int index) override;
    void changeProgramName(int, const juce::String&) override {}

    void getStateInformation(juce::MemoryBlock& data) override;
    void setStateInformation(const void* data, int size) override;

    /// Main thread: as if the host had sent it, heeded with the next block.
    void cue(cut::Cue cue) noexcept { link.cues.push(cue); }
    /// Main thread: a mark in the log, where the stylus is with the next block.
    void mark() noexcept { link.marks.count(); }
    /// Main thread: another thread than the device's wants to be the audio thread for a while. The device plays silence
    /// from now on, and the processor is prepared for a side from this file with a preview of its own, and with what a rehearsal
    /// of it has left, if there was one.
    void takeFromDevice(const log::ProgramRecord& program, const cut::RehearsedProgram& rehearsed = {});
    /// Main thread: the other thread has ended; back to the device, if there was one.
    void giveToDevice();
    /// For that other thread.
    AudioSide& audio() noexcept { return audioSide; }

    /// Before the first prepareToPlay(): whoever wraps the processor switches every input on, unasked. Then a second head
    /// makes the preview only if the set-up says so (`preview_from`).
    void switchEveryInputOn() noexcept { everyInputIsOn = true; }

    /// The set-up, the parameters' values.
    State state() const;
    /// Any thread.
    LiveSettings liveSettings() const { return parameters.liveSettings(); }
    void setState(const State& wanted);
    /// Where cuts are logged, from the next one on.
    void chooseBook(const BookChoice& wanted);
    /// Where OSC goes when it is on.
    void sendOscTo(const std::string& host);
    /// Puts a preset's settings over the present ones; returns the problems, one sentence each, and then changes nothing.
    std::vector<std::string> loadPreset(const std::string& nameOrFile);
    Service& service() noexcept { return service_; }
    /// What was wrong with the last state or preset, one sentence; empty when nothing was.
    const std::string& stateProblem() const noexcept { return problem; }

    /// Main thread: what is ridden goes to zero, and it is said why: `since` is the occasion, such as "a new program is open".
    void endRides(const std::string& since);
    /// Main thread, whenever somebody looks: what was ridden during a side ends with it.
    void settleRides();
    /// That what is ridden has gone to zero, one sentence, until the stylus goes down; empty: it has not.
    const std::string& ridesEnded() const noexcept { return ridesNote; }

private:
    void handleAsyncUpdate() override;
    void run(juce::AudioBuffer<float>& audio, const juce::MidiBuffer* midi) noexcept;
    int placeOf(bool isInput, int bus, int channel) const;
    void findChannels();
    void prepareFor(const Occasion& occasion);
    LiveIo io(juce::AudioBuffer<float>& audio) const noexcept;
    bool stylusIsDown() const;
    void tellHost();
    void tellOverOsc();

    /// Channels of a block, by bus; -1: there is none.
    struct Places {
        std::array<int, 2> in{-1, -1}, preview{-1, -1}, out{-1, -1}, control{-1, -1};
    };

    MakeEditor makeEditor;
    Places places;
    bool everyInputIsOn = false;
    bool isLent = false; ///< another thread is the audio thread
    Link link;
    Parameters parameters;
    AudioSide audioSide{link};
    std::vector<std::string> presets;
    int program = 0;
    std::string oscHost = State{}.oscHost;
    BookChoice book;
    std::string problem;
    std::string ridesNote;
    std::uint32_t cutsSettled = 0; ///< that have ended, and what was ridden with them
    OscOut osc;                    ///< the service thread's
    Service service_;

    JUCE_DECLARE_NON_COPYABLE_WITH_LEAK_DETECTOR(Processor)
};

} // namespace headland::plugin
