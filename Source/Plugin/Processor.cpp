// SPDX-License-Identifier: GPL-3.0-or-later
// See Processor.h.

#include "Plugin/Processor.h"

#include "Cut/SettingsTable.h"

#include <memory>

namespace headland::plugin {

namespace {

bool isProgramLayout(const juce::AudioChannelSet& channels) {
    return channels == juce::AudioChannelSet::mono() || channels == juce::AudioChannelSet::stereo();
}

juce::String juceText(std::string_view text) {
    return juce::String::fromUTF8(text.data(), static_cast<int>(text.size()));
}

/// The parameter of a setting: key, label, unit, range and default from the settings table.
std::unique_ptr<juce::AudioParameterFloat> parameterOf(std::string_view key) {
    const auto& setting = *cut::findSetting(key);
    const juce::NormalisableRange<float> range(static_cast<float>(setting.least),
                                               static_cast<float>(setting.greatest));
    return std::make_unique<juce::AudioParameterFloat>(
        juce::ParameterID(juceText(setting.key), 1), juceText(setting.label), range,
        static_cast<float>(cut::getNumber({}, setting)),
        juce::AudioParameterFloatAttributes().withLabel(juceText(setting.unit)));
}

/// Gives the processor a parameter to own.
juce::AudioParameterFloat& added(juce::AudioProcessor& processor,
                                 std::unique_ptr<juce::AudioParameterFloat> parameter) {
    auto& reference = *parameter;
    processor.addParameter(parameter.release());
    return reference;
}

} // namespace

Processor::Processor()
    : AudioProcessor(BusesProperties()
                         .withInput("Program", juce::AudioChannelSet::stereo(), true)
                         .withInput("Preview", juce::AudioChannelSet::stereo(), false)
                         .withOutput("Program", juce::AudioChannelSet::stereo(), true)
                         .withOutput("Control", juce::AudioChannelSet::stereo(), false)),
      discLevel_db(added(*this, parameterOf("disc_level_db"))) {}

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

void Processor::getStateInformation(juce::MemoryBlock& state) {
    juce::XmlElement xml("Headland");
    xml.setAttribute(discLevel_db.getParameterID(), static_cast<double>(discLevel_db.get()));
    copyXmlToBinary(xml, state);
}

void Processor::setStateInformation(const void* data, int size) {
    if (const auto xml = getXmlFromBinary(data, size); xml != nullptr && xml->hasTagName("Headland"))
        discLevel_db =
            static_cast<float>(xml->getDoubleAttribute(discLevel_db.getParameterID(), discLevel_db.get()));
}

} // namespace headland::plugin
