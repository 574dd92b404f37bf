// SPDX-License-Identifier: GPL-3.0-or-later
// One row of a settings table as a parameter of the host. Holds the value in the setting's own unit, as a double: that is what
// counts. The host's normalised float is made from it, and overrides it only where the host itself sends another one than it
// was given, so that a set-up that was typed, undone, restored or read from a preset stays the same to the last bit. Text both
// ways, with units.
// Threads: any; setting and reading a value is wait-free.
#pragma once

#include "Cut/SettingsTable.h"
#include "HandOff/Cell.h"

#include <juce_audio_processors/juce_audio_processors.h>

#include <cstdint>
#include <string>

namespace headland::plugin {

class SettingParameter : public juce::AudioProcessorParameterWithID {
public:
    /// `changes` counts up with every change. `isAutomatable`: a host may draw a curve for it.
    template <typename Settings>
    SettingParameter(const cut::SettingOf<Settings>& setting, handoff::Cell<std::uint32_t>& changes,
                     bool automatable)
        : AudioProcessorParameterWithID(
            {juce::String(setting.key.data(), setting.key.size()), versionHint},
            juce::String::fromUTF8(setting.label.data(), static_cast<int>(setting.label.size()))),
          key(setting.key),
          unit(setting.unit),
          least(setting.least),
          greatest(setting.greatest),
          whole(setting.isWhole()),
          pitch(setting.isPitch()),
          automatable(automatable),
          default_(cut::getNumber(Settings{}, setting)),
          changes(changes),
          current(default_) {}

    /// In the setting's unit.
    double value() const noexcept { return current.get(); }
    /// In the setting's unit, exactly; the host is not told.
    void setExactly(double wanted) noexcept;
    /// The same, and the host is told. Main thread.
    void setExactlyNotifyingHost(double wanted);

    float getValue() const override { return normalised(value()); }
    float getDefaultValue() const override { return normalised(default_); }
    /// Takes the nearest value a person would write; what is already there to the host's precision stays as it is, and the
    /// default comes back exactly.
    void setValue(float wanted) override;

    /// "102 µm"; for the format its key.
    juce::String getText(float normalisedValue, int lengthMax) const override;
    /// Reads "102", "102 µm", "250 lpi"; text that is none of these, or what is shown of the value, leaves it as it is.
    float getValueForText(const juce::String& text) const override;

    int getNumSteps() const override;
    /// Only what has few values: hosts list each value of a discrete parameter.
    bool isDiscrete() const override { return whole && greatest - least <= 16; }
    bool isBoolean() const override { return whole && least == 0 && greatest == 1; }
    bool isAutomatable() const override { return automatable; }
    bool isMetaParameter() const override { return isFormat(); }

    /// It sets others: speed, radii, preview.
    bool isFormat() const noexcept { return key == "format"; }

private:
    static constexpr int versionHint = 1;

    float normalised(double real) const noexcept;
    double atNormalised(float wanted) const noexcept;
    double rounded(double real) const noexcept;
    std::string shown(double real) const;

    std::string_view key, unit;
    double least, greatest;
    bool whole, pitch, automatable;
    double default_;
    handoff::Cell<std::uint32_t>& changes;
    handoff::Cell<double> current;
};

} // namespace headland::plugin
