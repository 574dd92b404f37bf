// SPDX-License-Identifier: GPL-3.0-or-later
// See Processor.h.

#include "Plugin/Processor.h"

namespace headland::plugin {

namespace {

bool isProgramLayout(const juce::AudioChannelSet& channels) {
    return channels == juce::AudioChannelSet::mono() || channels == juce::AudioChannelSet::stereo();
}

} // namespace

Processor::Processor()
    : AudioProcessor(BusesProperties()
                         .withInput("Program", juce::AudioChannelSet::stereo(), true)
                         .withInput("Preview", juce::AudioChannelSet::stereo(), false)
                         .withOutput("Program", juce::AudioChannelSet::stereo(), true)
                         .withOutput("Control", juce::AudioChannelSet::stereo(), false)) {}

const juce::String Processor::getName() const {
    return "Headland";
}

bool Processor::acceptsMidi() const {
    return true;
}

bool Processor::producesMidi() const {
    return false;
}

double Processor::getTailLengthSeconds() const {
    return 0.0;
}

bool Processor::isBusesLayoutSupported(const BusesLayout& layout) const {
    const auto program = layout.getChannelSet(true, programBus);
    const auto preview = layout.getChannelSet(true, previewBus);
    const auto control = layout.getChannelSet(false, controlBus);
    return isProgramLayout(program) && layout.getChannelSet(false, programBus) == program
           && (preview.isDisabled() || preview == program) && (control.isDisabled() || control.size() == 2);
}

void Processor::prepareToPlay(double, int) {}

void Processor::releaseResources() {}

void Processor::processBlock(juce::AudioBuffer<float>& audio, juce::MidiBuffer&) {
    auto control = getBusBuffer(audio, false, controlBus);
    control.clear();
}

bool Processor::hasEditor() const {
    return false;
}

juce::AudioProcessorEditor* Processor::createEditor() {
    return nullptr;
}

int Processor::getNumPrograms() {
    return 1;
} // hosts expect at least one

int Processor::getCurrentProgram() {
    return 0;
}

void Processor::setCurrentProgram(int) {}

const juce::String Processor::getProgramName(int) {
    return {};
}

void Processor::changeProgramName(int, const juce::String&) {}

void Processor::getStateInformation(juce::MemoryBlock&) {}

void Processor::setStateInformation(const void*, int) {}

} // namespace headland::plugin
