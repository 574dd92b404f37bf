// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/Processor.h"

#include "Cut/UnitText.h"
#include "Files/PresetFile.h"
#include "Plugin/MidiCues.h"

#include <utility>

namespace headland::plugin {

namespace {

bool isProgramLayout(const juce::AudioChannelSet& channels) {
    return channels == juce::AudioChannelSet::mono() || channels == juce::AudioChannelSet::stereo();
}

/// A rate that nothing can be cut at: the program goes through as it is, the control output stays at rest.
void rest(const LiveIo& io, int count, const LiveSettings& live) noexcept {
    if (io.controlPitch == nullptr)
        return;
    std::fill_n(io.controlPitch, count, static_cast<float>(live.pitchScale().rest()));
    std::fill_n(io.controlDepth, count, static_cast<float>(live.depthScale().rest()));
}

} // namespace

Processor::Processor(MakeEditor make)
    : AudioProcessor(BusesProperties()
                         .withInput("Program", juce::AudioChannelSet::stereo(), true)
                         .withInput("Preview", juce::AudioChannelSet::stereo(), false)
                         .withOutput("Program", juce::AudioChannelSet::stereo(), true)
                         .withOutput("Control", juce::AudioChannelSet::stereo(), false)),
      makeEditor(std::move(make)),
      parameters(*this),
      presets(files::builtInPresetNames()),
      service_(link, parameters, [this] { triggerAsyncUpdate(); }) {
    tellOverOsc();
}

Processor::~Processor() {
    audioSide.liftFor(handoff::CutEnd::stopped);
    service_.stop();
    cancelPendingUpdate();
}

double Processor::getTailLengthSeconds() const {
    return getSampleRate() > 0 ? getLatencySamples() / getSampleRate() : 0;
}

bool Processor::isBusesLayoutSupported(const BusesLayout& layout) const {
    const auto program_ = layout.getChannelSet(true, programBus);
    const auto preview = layout.getChannelSet(true, previewBus);
    const auto control = layout.getChannelSet(false, controlBus);
    return isProgramLayout(program_) && layout.getChannelSet(false, programBus) == program_
           && (preview.isDisabled() || preview == program_) && (control.isDisabled() || control.size() == 2);
}

void Processor::prepareToPlay(double sampleRate_hz, int) {
    findChannels();
    if (isLent)
        return; // the device's business, until it has the processor back
    const auto* preview = getBus(true, previewBus);
    const auto isOn = preview != nullptr && preview->isEnabled();
    const auto isUnasked =
        everyInputIsOn || wrapperType == wrapperType_LV2; // JUCE's LV2 wrapper switches every bus on
    prepareFor({sampleRate_hz, isOn, isOn && !isUnasked, std::nullopt, {}});
}

void Processor::takeFromDevice(const log::ProgramRecord& from, const cut::RehearsedProgram& rehearsed) {
    suspendProcessing(true); // waits for the block under way
    isLent = true;
    prepareFor({from.facts.sampleRate_hz, false, false, from, rehearsed});
}

void Processor::giveToDevice() {
    audioSide.liftFor(handoff::CutEnd::lifted);
    audioSide.end();
    isLent = false;
    if (getSampleRate() > 0)
        prepareToPlay(getSampleRate(), getBlockSize());
    suspendProcessing(false);
}

void Processor::prepareFor(const Occasion& occasion) {
    const auto* before = audioSide.current();
    const auto sameRate = before == nullptr || before->setup().sampleRate_hz == occasion.sampleRate_hz;
    audioSide.liftFor(sameRate ? handoff::CutEnd::stopped : handoff::CutEnd::rateChanged);
    service_.prepare(occasion);
    setLatencySamples(service_.latency_samples());
    audioSide.prepare(parameters.wantedCue());
}

void Processor::releaseResources() {
    if (isLent)
        return;
    audioSide.liftFor(handoff::CutEnd::stopped);
    audioSide.end();
}

int Processor::placeOf(bool isInput, int bus, int channel) const {
    return channel < getChannelCountOfBus(isInput, bus)
               ? getChannelIndexInProcessBlockBuffer(isInput, bus, channel)
               : -1;
}

/// Where each channel lies in a block. JUCE's own buffers of a bus free memory when they go, so not on the audio thread.
void Processor::findChannels() {
    for (std::size_t i = 0; i < 2; ++i) {
        const auto channel = static_cast<int>(i);
        places.in[i] = placeOf(true, programBus, channel);
        places.preview[i] = placeOf(true, previewBus, channel);
        places.out[i] = placeOf(false, programBus, channel);
        places.control[i] = placeOf(false, controlBus, channel);
    }
}

LiveIo Processor::io(juce::AudioBuffer<float>& audio) const noexcept {
    const auto reading = [&](int place) {
        return place < 0 || place >= audio.getNumChannels() ? nullptr : audio.getReadPointer(place);
    };
    const auto writing = [&](int place) {
        return place < 0 || place >= audio.getNumChannels() ? nullptr : audio.getWritePointer(place);
    };
    return {reading(places.in[0]),      reading(places.in[1]),     reading(places.preview[0]),
            reading(places.preview[1]), writing(places.out[0]),    writing(places.out[1]),
            writing(places.control[0]), writing(places.control[1])};
}

// Denormals are not flushed to zero here: the engine clears what decays by itself, and live frames are to be the very
// bits of the command-line tool's.
void Processor::processBlock(juce::AudioBuffer<float>& audio, juce::MidiBuffer& midi) {
    audioSide.begin(parameters.wantedCue());
    run(audio, &midi);
    audioSide.end();
}

void Processor::processBlockBypassed(juce::AudioBuffer<float>& audio, juce::MidiBuffer&) {
    audioSide.begin(std::nullopt);
    audioSide.liftFor(handoff::CutEnd::bypassed);
    run(audio, nullptr);
    audioSide.end();
}

void Processor::run(juce::AudioBuffer<float>& audio, const juce::MidiBuffer* midi) noexcept {
    auto to = io(audio);
    const auto ridden = parameters.liveSettings();
    const auto count = audio.getNumSamples();
    if (to.left == nullptr || to.outLeft == nullptr)
        return; // a host that does not keep to the layout it was told
    auto done = 0;
    const auto runTo = [&](int until) {
        if (until <= done)
            return;
        if (!audioSide.process(to.from(done), until - done, ridden))
            rest(to.from(done), until - done, ridden);
        done = until;
    };
    if (midi != nullptr)
        for (const auto event : *midi) {
            if (event.numBytes != 3 || (event.data[0] & 0xf0) != 0x90 || event.data[2] == 0)
                continue; // no note on
            const auto wanted = cueOf(event.data[1]);
            if (!wanted && event.data[1] != markNote)
                continue;
            runTo(std::min(event.samplePosition, count));
            wanted ? audioSide.cue(*wanted) : audioSide.mark();
        }
    runTo(count);
}

juce::AudioProcessorEditor* Processor::createEditor() {
    return makeEditor ? makeEditor(*this) : nullptr;
}

int Processor::getNumPrograms() {
    return static_cast<int>(presets.size()) + 1;
}

const juce::String Processor::getProgramName(int index) {
    if (index <= 0 || index >= getNumPrograms())
        return "As it is";
    return juce::String::fromUTF8(presets[static_cast<std::size_t>(index) - 1].c_str());
}

void Processor::setCurrentProgram(int index) {
    if (index < 0 || index >= getNumPrograms())
        return;
    program = index;
    if (index > 0)
        loadPreset(presets[static_cast<std::size_t>(index) - 1]);
}

std::vector<std::string> Processor::loadPreset(const std::string& nameOrFile) {
    const auto preset = files::loadPreset(nameOrFile);
    auto wanted = parameters.cutSettings();
    auto problems = preset.problems;
    if (problems.empty())
        problems = files::applyPreset(wanted, preset, files::presetPlace(nameOrFile));
    problem = problems.empty() ? std::string() : problems.front();
    if (problems.empty()) {
        parameters.set(wanted);
        tellHost();
    }
    return problems;
}

State Processor::state() const {
    return {parameters.cutSettings(), parameters.liveSettings(), oscHost, book};
}

void Processor::setState(const State& wanted) {
    parameters.set(wanted.cut);
    parameters.set(wanted.live);
    sendOscTo(wanted.oscHost);
    chooseBook(wanted.book);
    tellHost();
}

void Processor::chooseBook(const BookChoice& wanted) {
    book = wanted;
    service_.chooseBook(wanted);
}

void Processor::sendOscTo(const std::string& host) {
    oscHost = host;
    tellOverOsc();
}

void Processor::getStateInformation(juce::MemoryBlock& data) {
    const auto text = stateText(state());
    data.replaceAll(text.data(), text.size());
}

void Processor::setStateInformation(const void* data, int size) {
    State wanted;
    if (!readState({static_cast<const char*>(data), static_cast<std::size_t>(std::max(0, size))}, wanted,
                   problem))
        return;
    const auto isDown = stylusIsDown();
    if (isDown) // a session that is loaded moves no groove: what is ridden stays until the side is over
        for (const auto& setting : liveTable())
            if (isRidden(setting))
                cut::setNumber(wanted.live, setting, cut::getNumber(liveSettings(), setting));
    setState(wanted);
    if (!isDown)
        endRides("what was saved is loaded");
}

bool Processor::stylusIsDown() const {
    const auto status = service_.report().status;
    return status.state != cut::State::up || status.lowering;
}

void Processor::endRides(const std::string& since) {
    std::string ended;
    for (const auto& setting : liveTable())
        if (const auto value = cut::getNumber(liveSettings(), setting); isRidden(setting) && value != 0) {
            ended += (ended.empty() ? "" : ", ") + std::string(setting.label) + " was "
                     + cut::textWithUnit(value, setting.unit);
            parameters.ride(setting, 0);
        }
    if (!ended.empty())
        ridesNote = "What is ridden begins at zero, because " + since + ": " + ended + ".";
}

void Processor::settleRides() {
    if (stylusIsDown())
        return ridesNote.clear();
    const auto begun = service_.report().status.cuts;
    if (std::exchange(cutsSettled, begun) != begun)
        endRides("the side it was ridden for is over");
}

void Processor::tellOverOsc() {
    service_.setTell([this, host = oscHost](const handoff::LiveStatus& status) {
        const auto live = parameters.liveSettings();
        if (live.osc_on != 0)
            osc.send(status, host, live.osc_port);
        else
            osc.stop();
        return osc.trouble();
    });
}

void Processor::tellHost() {
    updateHostDisplay(ChangeDetails().withParameterInfoChanged(true).withProgramChanged(true));
}

void Processor::handleAsyncUpdate() {
    settleRides();
    setLatencySamples(service_.latency_samples());
    tellHost();
}

} // namespace headland::plugin
