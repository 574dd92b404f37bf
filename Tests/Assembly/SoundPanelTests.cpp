// SPDX-License-Identifier: GPL-3.0-or-later
// The panel for sound devices, on devices that are made up: what goes through which channel, in words, and nothing that
// makes a sound.
#include "Assembly/SoundPanel.h"

#include "Assembly/DeviceFeed.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace headland;
using assembly::SoundPanel;
using Catch::Contains;

namespace {

/// Does nothing by itself; a test calls what would be its thread.
class MadeUpDevice final : public juce::AudioIODevice {
public:
    MadeUpDevice() : AudioIODevice("Desk interface", "Made up") {}
    juce::StringArray names() const { return {"A", "B", "C", "D", "E", "F"}; }
    juce::StringArray getOutputChannelNames() override { return names(); }
    juce::StringArray getInputChannelNames() override { return names(); }
    juce::Array<double> getAvailableSampleRates() override { return {44100, 96000}; }
    juce::Array<int> getAvailableBufferSizes() override { return {64, 512}; }
    int getDefaultBufferSize() override { return 512; }
    juce::String open(const juce::BigInteger& ins, const juce::BigInteger& outs, double rate,
                      int block) override {
        inputs = ins;
        outputs = outs;
        rate_hz = rate;
        length = block;
        isUp = true;
        return {};
    }
    void close() override { isUp = false; }
    bool isOpen() override { return isUp; }
    void start(juce::AudioIODeviceCallback* wanted) override {
        callback = wanted;
        callback->audioDeviceAboutToStart(this);
    }
    void stop() override {
        if (callback != nullptr)
            callback->audioDeviceStopped();
        callback = nullptr;
    }
    bool isPlaying() override { return callback != nullptr; }
    juce::String getLastError() override { return {}; }
    int getCurrentBufferSizeSamples() override { return length; }
    double getCurrentSampleRate() override { return rate_hz; }
    int getCurrentBitDepth() override { return 24; }
    juce::BigInteger getActiveOutputChannels() const override { return outputs; }
    juce::BigInteger getActiveInputChannels() const override { return inputs; }
    int getOutputLatencyInSamples() override { return 0; }
    int getInputLatencyInSamples() override { return 0; }

    juce::AudioIODeviceCallback* callback = nullptr;
    juce::BigInteger inputs, outputs;
    double rate_hz = 44100;
    int length = 512;
    bool isUp = false;
};

class MadeUpType final : public juce::AudioIODeviceType {
public:
    MadeUpType() : AudioIODeviceType("Made up") {}
    void scanForDevices() override {}
    juce::StringArray getDeviceNames(bool) const override { return {"Desk interface"}; }
    int getDefaultDeviceIndex(bool) const override { return 0; }
    int getIndexOfDevice(juce::AudioIODevice*, bool) const override { return 0; }
    bool hasSeparateInputsAndOutputs() const override { return false; }
    juce::AudioIODevice* createDevice(const juce::String&, const juce::String&) override {
        return new MadeUpDevice;
    }
};

class MadeUpDevices final : public juce::AudioDeviceManager {
public:
    void createAudioDeviceTypes(juce::OwnedArray<juce::AudioIODeviceType>& types) override {
        types.add(new MadeUpType);
    }
    MadeUpDevice& device() { return dynamic_cast<MadeUpDevice&>(*getCurrentAudioDevice()); }
};

struct Rig {
    Rig() {
        REQUIRE(devices.initialise(4, 4, nullptr, true).isEmpty());
        panel = std::make_unique<SoundPanel>(devices, [this] { ++kept; });
        panel->setSize(600, panel->getHeight());
    }
    template <typename Part>
    Part& part(const juce::String& id) {
        auto* found = dynamic_cast<Part*>(panel->findChildWithID(id));
        REQUIRE(found != nullptr);
        return *found;
    }
    void choose(const juce::String& id, int row) {
        part<editor::ChoiceBox>(id).setSelectedItemIndex(row, juce::sendNotificationSync);
        panel->refresh(); // as the device manager's message does
    }
    void toggle(const juce::String& id, bool isOn) {
        part<juce::ToggleButton>(id).setToggleState(isOn, juce::sendNotificationSync);
        panel->refresh();
    }

    juce::ScopedJuceInitialiser_GUI juceIsUp;
    MadeUpDevices devices;
    int kept = 0;
    std::unique_ptr<SoundPanel> panel;
};

} // namespace

TEST_CASE("Which channel is what is said in words, as the device is fed", "[sound]") {
    Rig rig;
    CHECK(rig.panel->channelLines()
          == std::vector<std::string>{
              "Output 1, A: program, left, to the cutter head",
              "Output 2, B: program, right, to the cutter head",
              "Output 3, C: pitch, to the lathe: a voltage, never a sound",
              "Output 4, D: depth, to the lathe: a voltage, never a sound", "Output 5, E: not used",
              "Output 6, F: not used", "Input 1, A: program, left", "Input 2, B: program, right",
              "Input 3, C: preview of a second head, left", "Input 4, D: preview of a second head, right",
              "Input 5, E: not used", "Input 6, F: not used"});
    rig.toggle("output 2", false);
    const auto lines = rig.panel->channelLines();
    CHECK(lines[0] == "Output 1, A: program, left, to the cutter head");
    CHECK(lines[1] == "Output 2, B: not used");
    CHECK(lines[2] == "Output 3, C: program, right, to the cutter head");
    CHECK(lines[3] == "Output 4, D: not used"); // no pitch without depth
    CHECK(rig.kept == 1);
    for (int inputs = 0; inputs <= 6; ++inputs)
        for (int outputs = 0; outputs <= 6; ++outputs) {
            const auto layout = assembly::DeviceFeed::layoutFor(inputs, outputs);
            const auto program = layout.getNumChannels(false, 0), control = layout.getNumChannels(false, 1);
            for (int i = 0; i < 6; ++i) {
                INFO(inputs << " inputs, " << outputs << " outputs, output " << i + 1);
                const auto role = assembly::outputRole(i, inputs, outputs);
                CHECK((role.find("cutter head") != std::string::npos) == (i < program));
                CHECK((role.find("lathe") != std::string::npos) == (i >= program && i < program + control));
            }
        }
}

TEST_CASE("Rate, block and channels are chosen, and a fifth channel is refused in words", "[sound]") {
    Rig rig;
    rig.choose("sound Sample rate", 1);
    CHECK(rig.devices.device().rate_hz == 96000);
    rig.choose("sound Block", 0);
    CHECK(rig.devices.device().length == 64);
    CHECK(rig.kept == 2);
    rig.toggle("output 5", true);
    CHECK_THAT(rig.panel->refusal(), Contains("switch another one off"));
    CHECK(rig.devices.device().outputs.countNumberOfSetBits() == 4);
    rig.toggle("output 1", false);
    rig.toggle("output 5", true);
    CHECK(rig.panel->refusal().empty());
    CHECK(rig.devices.device().outputs.toString(2) == "11110");
}

TEST_CASE("The panel has nothing that makes a sound, and every press leaves the outputs silent", "[sound]") {
    Rig rig;
    class Silence final : public juce::AudioIODeviceCallback {
        void audioDeviceIOCallbackWithContext(const float* const*, int, float* const* outputs, int count,
                                              int length,
                                              const juce::AudioIODeviceCallbackContext&) override {
            for (int i = 0; i < count; ++i)
                std::fill_n(outputs[i], length, 0.0f);
        }
        void audioDeviceAboutToStart(juce::AudioIODevice*) override {}
        void audioDeviceStopped() override {}
    } silence;
    rig.devices.addAudioCallback(&silence);
    const auto loudest = [&] {
        auto& device = rig.devices.device();
        const auto channels = device.outputs.countNumberOfSetBits();
        juce::AudioBuffer<float> in(std::max(1, device.inputs.countNumberOfSetBits()), device.length),
            out(std::max(1, channels), device.length);
        float most = 0;
        for (int block = 0; block < 100; ++block) {
            in.clear();
            device.callback->audioDeviceIOCallbackWithContext(
                in.getArrayOfReadPointers(), in.getNumChannels(), out.getArrayOfWritePointers(), channels,
                device.length, {});
            for (int channel = 0; channel < channels; ++channel)
                most = std::max(most, out.getMagnitude(channel, 0, device.length));
        }
        return most;
    };
    for (std::size_t i = 0;; ++i) {
        std::vector<juce::Button*> buttons;
        for (auto* child : rig.panel->getChildren())
            if (auto* button = dynamic_cast<juce::Button*>(child))
                buttons.push_back(button);
        if (i == buttons.size())
            break;
        CHECK(dynamic_cast<juce::ToggleButton*>(buttons[i]) != nullptr);
        CHECK_FALSE(buttons[i]->getButtonText().containsIgnoreCase("test"));
        buttons[i]->setToggleState(!buttons[i]->getToggleState(), juce::sendNotificationSync);
        CHECK(loudest() == 0);
        rig.panel->refresh();
        REQUIRE(i < 12);
    }
    rig.toggle("output 1", true);
    rig.devices.playTestSound();
    CHECK(loudest() > 0.1); // it would have been heard
    rig.devices.removeAudioCallback(&silence);
}

TEST_CASE("Without any device the panel still says what it is", "[sound]") {
    juce::ScopedJuceInitialiser_GUI juceIsUp;
    class None final : public juce::AudioDeviceManager {
        void createAudioDeviceTypes(juce::OwnedArray<juce::AudioIODeviceType>&) override {}
    } devices;
    SoundPanel panel(devices, [] {});
    CHECK(panel.channelLines().empty());
    CHECK(panel.getHeight() > 0);
}
