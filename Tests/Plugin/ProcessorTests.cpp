// SPDX-License-Identifier: GPL-3.0-or-later
// The processor without a host: which layouts of its buses it takes, and what it does with the audio in them.

#include "Plugin/Processor.h"

#include <catch2/catch.hpp>

using headland::plugin::Processor;
using juce::AudioChannelSet;

namespace {

const auto none = AudioChannelSet::disabled();
const auto mono = AudioChannelSet::mono();
const auto stereo = AudioChannelSet::stereo();
const auto pair = AudioChannelSet::discreteChannels(2);

struct Layout {
    AudioChannelSet programIn, preview, programOut, control;
};

juce::AudioProcessor::BusesLayout busesOf(const Layout& layout) {
    juce::AudioProcessor::BusesLayout buses;
    buses.inputBuses = {layout.programIn, layout.preview};
    buses.outputBuses = {layout.programOut, layout.control};
    return buses;
}

bool takes(const Layout& layout) {
    Processor processor;
    return processor.checkBusesLayoutSupported(busesOf(layout));
}

} // namespace

TEST_CASE("A host finds program on and preview and control off", "[plugin]") {
    const Processor processor;
    const auto layout = processor.getBusesLayout();
    CHECK(layout == busesOf({stereo, none, stereo, none}));
    CHECK(processor.getBus(true, Processor::previewBus)->getName() == "Preview");
    CHECK(processor.getBus(false, Processor::controlBus)->getName() == "Control");
}

TEST_CASE("A program is mono or stereo, with or without preview and control", "[plugin]") {
    for (const auto& program : {mono, stereo}) {
        for (const auto& preview : {none, program}) {
            for (const auto& control : {none, stereo, pair}) {
                INFO(program.getDescription()
                     << ", " << preview.getDescription() << ", " << control.getDescription());
                CHECK(takes({program, preview, program, control}));
            }
        }
    }
}

TEST_CASE("Layouts that make no sense are refused", "[plugin]") {
    CHECK_FALSE(takes({none, none, none, none}));
    CHECK_FALSE(takes({mono, none, stereo, none}));
    CHECK_FALSE(takes({stereo, none, mono, none}));
    CHECK_FALSE(takes({stereo, none, none, stereo}));
    CHECK_FALSE(takes({AudioChannelSet::create5point1(), none, AudioChannelSet::create5point1(), none}));
    CHECK_FALSE(takes({stereo, mono, stereo, none}));
    CHECK_FALSE(takes({mono, stereo, mono, none}));
    CHECK_FALSE(takes({stereo, none, stereo, mono}));
    CHECK_FALSE(takes({stereo, none, stereo, AudioChannelSet::quadraphonic()}));
}

TEST_CASE("The program goes through bit for bit and the control output stays at zero", "[plugin]") {
    Processor processor;
    REQUIRE(processor.setBusesLayout(busesOf({stereo, stereo, stereo, stereo})));
    processor.prepareToPlay(48000.0, 4);
    juce::AudioBuffer<float> audio(4,
                                   4); // program, then what the host left: preview's channels are control's
    for (int channel = 0; channel < 4; ++channel)
        for (int sample = 0; sample < 4; ++sample)
            audio.setSample(channel, sample, 0.1F * static_cast<float>(1 + 4 * channel + sample));
    const juce::AudioBuffer<float> before(audio);
    juce::MidiBuffer midi;
    processor.processBlock(audio, midi);
    for (int sample = 0; sample < 4; ++sample) {
        for (int channel = 0; channel < 2; ++channel)
            CHECK(audio.getSample(channel, sample) == before.getSample(channel, sample));
        for (int channel = 2; channel < 4; ++channel)
            CHECK(audio.getSample(channel, sample) == 0.0F);
    }
}
