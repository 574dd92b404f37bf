// SPDX-License-Identifier: GPL-3.0-or-later
// Between a sound device and the processor of the standalone. Inputs 1 and 2 are the program, 3 and 4 the second head's
// preview; outputs 1 and 2 are the program, 3 and 4 pitch and depth: as many of them as the device has. Cues come from
// MIDI inputs as notes. While another thread has the processor the device plays silence.
// Threads: audioDeviceIOCallback on the device's, which waits for nobody; MIDI on its inputs' threads; the rest on the
// main thread.
#pragma once

#include "HandOff/Gate.h"
#include "HandOff/Queue.h"
#include "Plugin/Processor.h"

#include <juce_audio_devices/juce_audio_devices.h>

#include <array>
#include <mutex>

namespace headland::assembly {

class DeviceFeed final : public juce::AudioIODeviceCallback, public juce::MidiInputCallback {
public:
    explicit DeviceFeed(plugin::Processor& processor);

    /// The layout for a device with so many inputs and outputs.
    static juce::AudioProcessor::BusesLayout layoutFor(int inputs, int outputs);

    void audioDeviceAboutToStart(juce::AudioIODevice* device) override;
    void audioDeviceStopped() override;
    void audioDeviceIOCallbackWithContext(const float* const* inputs, int inputCount, float* const* outputs,
                                          int outputCount, int sampleCount,
                                          const juce::AudioIODeviceCallbackContext& context) override;
    void handleIncomingMidiMessage(juce::MidiInput* source, const juce::MidiMessage& message) override;

    /// Main thread: the device plays silence from now on; when it returns, no block is under way.
    void silence() noexcept { gate.close(); }
    /// Main thread: the device has the processor again.
    void resume() noexcept { gate.open(); }

    /// What the device's start does, for a device that is none.
    void start(double sampleRate_hz, int blockLength, int inputs, int outputs);

private:
    static constexpr std::size_t notesMax = 256;
    using Note = std::array<juce::uint8, 3>;

    void takeNotes();
    void process(const float* const* inputs, int inputCount, float* const* outputs, int outputCount, int at,
                 int count);

    plugin::Processor& processor;
    handoff::Gate gate;
    int longest = 0; ///< samples that fit into `audio`
    juce::AudioBuffer<float> audio;
    juce::MidiBuffer midi;
    std::mutex severalInputs; ///< MIDI inputs have threads of their own, the queue has one producer
    handoff::Queue<Note> notes{notesMax};
};

} // namespace headland::assembly
