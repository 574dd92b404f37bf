// SPDX-License-Identifier: GPL-3.0-or-later
// The sound device of the standalone: driver, device, rate, block, and which channels are used, each with what goes through
// it in words. It plays nothing: every output may be a cutter head or a lathe's drive. Main thread.
#pragma once

#include "Editor/ChoiceBox.h"

#include <juce_audio_devices/juce_audio_devices.h>
#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace headland::assembly {

/// What goes through the `index`-th channel that is used, from 0, of a device with so many used channels either way: as
/// DeviceFeed lays them out. "program, left"; "not used" beyond them.
std::string inputRole(int index, int inputs, int outputs);
std::string outputRole(int index, int inputs, int outputs);

class SoundPanel final : public juce::Component, private juce::ChangeListener {
public:
    static constexpr int channelsMost = 4; ///< of a device that are used, each way

    /// `devices` must outlive it. `kept`: called when something was chosen.
    SoundPanel(juce::AudioDeviceManager& devices, std::function<void()> kept);
    ~SoundPanel() override;

    /// Looks at the devices anew.
    void refresh();
    /// "Output 1, Front left: program, left", in the order they are shown.
    std::vector<std::string> channelLines() const;
    /// Why the last choice was refused; empty when it was not.
    const std::string& refusal() const noexcept { return refused; }

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    struct Choice {
        juce::String name;
        std::unique_ptr<editor::ChoiceBox> box;
    };
    using Setup = juce::AudioDeviceManager::AudioDeviceSetup;

    void changeListenerCallback(juce::ChangeBroadcaster*) override { refresh(); }
    void addChoice(const juce::String& name, const juce::StringArray& texts, int chosen,
                   std::function<void(int)> take);
    void addDeviceChoices();
    void addChannels(juce::AudioIODevice& device, bool isInput);
    void addMidi();
    void addToggle(const juce::String& id, const juce::String& text, bool isOn,
                   std::function<void(bool)> take);
    void use(const std::function<void(Setup&)>& change);
    void useChannel(bool isInput, int channel, bool isUsed);
    void layOut();

    juce::AudioDeviceManager& devices;
    std::function<void()> onKept;
    std::vector<Choice> choices;
    std::vector<std::unique_ptr<juce::ToggleButton>> toggles;
    std::string refused;
};

} // namespace headland::assembly
