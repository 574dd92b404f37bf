// SPDX-License-Identifier: GPL-3.0-or-later
#include "Assembly/SoundPanel.h"

#include "Assembly/DeviceFeed.h"
#include "Editor/Look.h"

#include <array>
#include <utility>

namespace headland::assembly {

namespace {

constexpr int rowHeight = 32, nameWidth = 130, boxWidth = 360, gap = 4, wordsHeight = 44;
constexpr auto words =
    "Nothing is played here to try a device: every output may be a cutter head or a lathe's drive. "
    "Switch channels on and off with the cutter's and the drives' power off.";

std::string side(int channel, int channels) {
    return channels == 1 ? "" : channel == 0 ? ", left" : ", right";
}

juce::String rateText(double rate_hz) {
    return juce::String(rate_hz / 1000) + " kHz";
}

} // namespace

std::string inputRole(int index, int inputs, int outputs) {
    const auto layout = DeviceFeed::layoutFor(inputs, outputs);
    const auto program = layout.getNumChannels(true, 0), preview = layout.getNumChannels(true, 1);
    if (index < program)
        return "program" + side(index, program);
    if (index < program + preview)
        return "preview of a second head" + side(index - program, preview);
    return "not used";
}

std::string outputRole(int index, int inputs, int outputs) {
    const auto layout = DeviceFeed::layoutFor(inputs, outputs);
    const auto program = layout.getNumChannels(false, 0), control = layout.getNumChannels(false, 1);
    if (index < program)
        return "program" + side(index, program) + ", to the cutter head";
    if (index < program + control)
        return std::string(index == program ? "pitch" : "depth") + ", to the lathe: a voltage, never a sound";
    return "not used";
}

SoundPanel::SoundPanel(juce::AudioDeviceManager& d, std::function<void()> kept)
    : devices(d), onKept(std::move(kept)) {
    setComponentID("sound panel");
    setTitle("Sound device");
    devices.addChangeListener(this);
    refresh();
}

SoundPanel::~SoundPanel() {
    devices.removeChangeListener(this);
}

void SoundPanel::refresh() {
    choices.clear();
    toggles.clear();
    addDeviceChoices();
    if (auto* device = devices.getCurrentAudioDevice()) {
        addChannels(*device, false);
        addChannels(*device, true);
    }
    addMidi();
    layOut();
}

void SoundPanel::addChoice(const juce::String& name, const juce::StringArray& texts, int chosen,
                           std::function<void(int)> take) {
    auto box = std::make_unique<editor::ChoiceBox>();
    box->setComponentID("sound " + name);
    box->setTitle(name);
    box->addItemList(texts, 1);
    box->setTextWhenNothingSelected("none");
    box->setSelectedItemIndex(chosen, juce::dontSendNotification);
    box->onChange = [made = box.get(), take = std::move(take)] { take(made->getSelectedItemIndex()); };
    addAndMakeVisible(*box);
    choices.push_back({name, std::move(box)});
}

void SoundPanel::addDeviceChoices() {
    const auto& types = devices.getAvailableDeviceTypes();
    juce::StringArray drivers;
    for (auto* type : types)
        drivers.add(type->getTypeName());
    addChoice("Driver", drivers, drivers.indexOf(devices.getCurrentAudioDeviceType()),
              [this, drivers](int i) {
                  devices.setCurrentAudioDeviceType(drivers[i], true);
                  onKept();
              });
    auto* type = devices.getCurrentDeviceTypeObject();
    if (type == nullptr)
        return;
    const auto setup = devices.getAudioDeviceSetup();
    const auto isSeparate = type->hasSeparateInputsAndOutputs();
    const auto outs = type->getDeviceNames(false), ins = type->getDeviceNames(true);
    addChoice(isSeparate ? "Output device" : "Device", outs, outs.indexOf(setup.outputDeviceName),
              [this, outs, isSeparate](int i) {
                  use([&](Setup& wanted) {
                      wanted.outputDeviceName = outs[i];
                      if (!isSeparate)
                          wanted.inputDeviceName = outs[i];
                      wanted.useDefaultOutputChannels = true;
                  });
              });
    if (isSeparate)
        addChoice("Input device", ins, ins.indexOf(setup.inputDeviceName), [this, ins](int i) {
            use([&](Setup& wanted) {
                wanted.inputDeviceName = ins[i];
                wanted.useDefaultInputChannels = true;
            });
        });
    auto* device = devices.getCurrentAudioDevice();
    if (device == nullptr)
        return;
    const auto rates = device->getAvailableSampleRates();
    juce::StringArray rateTexts, blockTexts;
    for (const auto rate : rates)
        rateTexts.add(rateText(rate));
    addChoice("Sample rate", rateTexts, rates.indexOf(device->getCurrentSampleRate()),
              [this, rates](int i) { use([&](Setup& wanted) { wanted.sampleRate = rates[i]; }); });
    const auto blocks = device->getAvailableBufferSizes();
    for (const auto block : blocks)
        blockTexts.add(juce::String(block) + " samples");
    addChoice("Block", blockTexts, blocks.indexOf(device->getCurrentBufferSizeSamples()),
              [this, blocks](int i) { use([&](Setup& wanted) { wanted.bufferSize = blocks[i]; }); });
}

void SoundPanel::addToggle(const juce::String& id, const juce::String& text, bool isOn,
                           std::function<void(bool)> take) {
    auto& toggle = *toggles.emplace_back(std::make_unique<juce::ToggleButton>(text));
    toggle.setComponentID(id);
    toggle.setToggleState(isOn, juce::dontSendNotification);
    toggle.onClick = [made = &toggle, take = std::move(take)] { take(made->getToggleState()); };
    addAndMakeVisible(toggle);
}

void SoundPanel::addChannels(juce::AudioIODevice& device, bool isInput) {
    const auto names = isInput ? device.getInputChannelNames() : device.getOutputChannelNames();
    const auto ins = device.getActiveInputChannels(), outs = device.getActiveOutputChannels();
    const auto& used = isInput ? ins : outs;
    const auto role = isInput ? inputRole : outputRole;
    int place = 0;
    for (int i = 0; i < names.size(); ++i) {
        const auto what =
            used[i] ? role(place++, ins.countNumberOfSetBits(), outs.countNumberOfSetBits()) : "not used";
        addToggle((isInput ? "input " : "output ") + juce::String(i + 1),
                  (isInput ? "Input " : "Output ") + juce::String(i + 1) + ", " + names[i] + ": "
                      + editor::toJuce(what),
                  used[i], [this, isInput, i](bool isUsed) { useChannel(isInput, i, isUsed); });
    }
}

void SoundPanel::addMidi() {
    for (const auto& input : juce::MidiInput::getAvailableDevices())
        addToggle("midi", "Cues by MIDI from " + input.name,
                  devices.isMidiInputDeviceEnabled(input.identifier),
                  [this, id = input.identifier](bool isUsed) {
                      devices.setMidiInputDeviceEnabled(id, isUsed);
                      onKept();
                  });
}

/// A change that no device takes leaves everything as it was, in words.
void SoundPanel::use(const std::function<void(Setup&)>& change) {
    auto wanted = devices.getAudioDeviceSetup();
    change(wanted);
    refused = devices.setAudioDeviceSetup(wanted, true).toStdString();
    devices.sendChangeMessage(); // shown anew in any case, once this choice is no longer running
    repaint();
    onKept();
}

void SoundPanel::useChannel(bool isInput, int channel, bool isUsed) {
    const auto* device = devices.getCurrentAudioDevice();
    if (device == nullptr)
        return;
    auto used = isInput ? device->getActiveInputChannels() : device->getActiveOutputChannels();
    used.setBit(channel, isUsed);
    if (used.countNumberOfSetBits() > channelsMost) {
        refused = "Four channels are all there is use for; switch another one off first.";
        devices.sendChangeMessage();
        return repaint();
    }
    use([&](Setup& wanted) {
        (isInput ? wanted.useDefaultInputChannels : wanted.useDefaultOutputChannels) = false;
        (isInput ? wanted.inputChannels : wanted.outputChannels) = used;
    });
}

std::vector<std::string> SoundPanel::channelLines() const {
    std::vector<std::string> lines;
    for (const auto& toggle : toggles)
        lines.push_back(toggle->getButtonText().toStdString());
    return lines;
}

void SoundPanel::layOut() {
    const auto rows = static_cast<int>(choices.size() + toggles.size());
    setSize(getWidth(), wordsHeight + rows * (rowHeight + gap) + 2 * gap);
    resized();
    repaint();
}

void SoundPanel::paint(juce::Graphics& g) {
    editor::drawWrapped(g, refused.empty() ? juce::String(words) : editor::toJuce("Refused: " + refused),
                        getLocalBounds().removeFromTop(wordsHeight).toFloat(), 15,
                        editor::colour(refused.empty() ? editor::palette::text : editor::palette::caution));
    g.setColour(editor::colour(editor::palette::text));
    for (const auto& [name, box] : choices)
        editor::drawWhole(g, name, box->getBounds().withX(0).withWidth(nameWidth - gap).toFloat(), 16,
                          juce::Justification::centredLeft);
}

void SoundPanel::resized() {
    auto area = getLocalBounds().withTrimmedTop(wordsHeight);
    const auto next = [&area] {
        const auto row = area.removeFromTop(rowHeight);
        area.removeFromTop(gap);
        return row;
    };
    for (auto& choice : choices)
        choice.box->setBounds(next().withTrimmedLeft(nameWidth).withWidth(boxWidth));
    for (auto& toggle : toggles)
        toggle->setBounds(next());
}

} // namespace headland::assembly
