// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/DeviceFeed.h"

#include <algorithm>

namespace headland::assembly {

DeviceFeed::DeviceFeed(plugin::Processor& p) : processor(p) {
    processor.switchEveryInputOn();
    midi.ensureSize(notesMax * 16); // more than that many notes take
}

juce::AudioProcessor::BusesLayout DeviceFeed::layoutFor(int inputs, int outputs) {
    const auto isMono = inputs == 1 || outputs == 1;
    const auto channels = isMono ? 1 : 2;
    const auto program = isMono ? juce::AudioChannelSet::mono() : juce::AudioChannelSet::stereo();
    const auto off = juce::AudioChannelSet::disabled();
    juce::AudioProcessor::BusesLayout layout;
    layout.inputBuses = {program, inputs >= 2 * channels && inputs > 1 ? program : off};
    layout.outputBuses = {program, outputs >= channels + 2 ? juce::AudioChannelSet::stereo() : off};
    return layout;
}

void DeviceFeed::audioDeviceAboutToStart(juce::AudioIODevice* device) {
    start(device->getCurrentSampleRate(), device->getCurrentBufferSizeSamples(),
          device->getActiveInputChannels().countNumberOfSetBits(),
          device->getActiveOutputChannels().countNumberOfSetBits());
}

void DeviceFeed::start(double sampleRate_hz, int blockLength, int inputs, int outputs) {
    processor.setBusesLayout(layoutFor(inputs, outputs));
    longest = blockLength;
    audio.setSize(std::max(processor.getTotalNumInputChannels(), processor.getTotalNumOutputChannels()),
                  blockLength);
    processor.setRateAndBufferSizeDetails(sampleRate_hz, blockLength);
    processor.prepareToPlay(sampleRate_hz, blockLength);
}

void DeviceFeed::audioDeviceStopped() {
    processor.releaseResources();
}

void DeviceFeed::handleIncomingMidiMessage(juce::MidiInput*, const juce::MidiMessage& message) {
    if (!message.isNoteOn())
        return;
    const std::lock_guard held(severalInputs);
    const auto* bytes = message.getRawData();
    notes.push({bytes[0], bytes[1], bytes[2]});
}

void DeviceFeed::takeNotes() {
    midi.clear();
    for (Note note{}; notes.pop(note);)
        midi.addEvent(note.data(), static_cast<int>(note.size()), 0);
}

void DeviceFeed::audioDeviceIOCallbackWithContext(const float* const* inputs, int inputCount,
                                                  float* const* outputs, int outputCount, int sampleCount,
                                                  const juce::AudioIODeviceCallbackContext&) {
    const auto runs = longest > 0 && gate.enter();
    for (int at = 0; at < sampleCount;) { // a device may ask for more than it said
        const auto count = runs ? std::min(sampleCount - at, longest) : sampleCount - at;
        if (runs)
            process(inputs, inputCount, outputs, outputCount, at, count);
        else
            for (int channel = 0; channel < outputCount; ++channel)
                if (outputs[channel] != nullptr)
                    std::fill_n(outputs[channel] + at, count, 0.0f);
        at += count;
    }
    if (runs)
        gate.leave();
}

void DeviceFeed::process(const float* const* inputs, int inputCount, float* const* outputs, int outputCount,
                         int at, int count) {
    const auto channels = audio.getNumChannels();
    audio.setSize(channels, count, false, false, true); // smaller than it was made: nothing is allocated
    for (int channel = 0; channel < channels; ++channel) {
        const auto* input = channel < inputCount ? inputs[channel] : nullptr;
        if (input == nullptr)
            audio.clear(channel, 0, count);
        else
            audio.copyFrom(channel, 0, input + at, count);
    }
    takeNotes();
    processor.processBlock(audio, midi);
    for (int channel = 0; channel < outputCount; ++channel) {
        if (outputs[channel] == nullptr)
            continue;
        if (channel < processor.getTotalNumOutputChannels())
            std::copy_n(audio.getReadPointer(channel), count, outputs[channel] + at);
        else
            std::fill_n(outputs[channel] + at, count, 0.0f);
    }
}

} // namespace headland::assembly
