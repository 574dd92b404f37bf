// SPDX-License-Identifier: GPL-3.0-or-later
// The audio processor as a host sees it: its buses, which layouts of them it takes, its parameters and state. For now
// there is one parameter, the program goes through untouched and the control output stays at zero.
// Threads: processBlock on the audio thread, the rest on the host's main thread.
#pragma once

#include <juce_audio_processors/juce_audio_processors.h>

namespace headland::plugin {

class Processor final : public juce::AudioProcessor {
public:
    /// Places of the buses, as the host counts them.
    static constexpr int programBus = 0;
    static constexpr int previewBus = 1; ///< among the inputs
    static constexpr int controlBus = 1; ///< among the outputs: channel 0 is pitch, channel 1 is depth

    Processor();

    const juce::String getName() const override;
    bool acceptsMidi() const override;
    bool producesMidi() const override;
    double getTailLengthSeconds() const override;

    /// Takes a mono or stereo program, the same in and out; a preview laid out as the program, or none; a control
    /// output of two channels, or none.
    bool isBusesLayoutSupported(const BusesLayout& layout) const override;
    void prepareToPlay(double sampleRate_hz, int blockSizeMax) override;
    void releaseResources() override;
    void processBlock(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) override;
    using AudioProcessor::processBlock; // double precision stays refused, as JUCE's default has it

    bool hasEditor() const override;
    juce::AudioProcessorEditor* createEditor() override;

    int getNumPrograms() override;
    int getCurrentProgram() override;
    void setCurrentProgram(int index) override;
    const juce::String getProgramName(int index) override;
    void changeProgramName(int index, const juce::String& name) override;

    void getStateInformation(juce::MemoryBlock& state) override;
    void setStateInformation(const void* data, int size) override;

private:
    juce::AudioParameterFloat& discLevel_db; // AudioProcessor owns its parameters

    JUCE_DECLARE_NON_COPYABLE_WITH_LEAK_DETECTOR(Processor)
};

} // namespace headland::plugin
