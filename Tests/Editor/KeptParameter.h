// SPDX-License-Identifier: GPL-3.0-or-later
// A parameter that keeps its value as a double, as the processor's own do; a host sees it as a float from 0 to 1.
#pragma once

#include "Editor/Access.h"

namespace headland::test {

class KeptParameter final : public juce::AudioProcessorParameterWithID, public editor::FieldValue {
public:
    KeptParameter(const char* key, const char* label, double least, double greatest, double value)
        : AudioProcessorParameterWithID({key, 1}, label), least(least), greatest(greatest), kept(value) {}

    double get() const override { return kept; }
    void set(double wanted) override {
        kept = wanted;
        sendValueChangedMessageToListeners(getValue());
    }
    void beginGesture() override { beginChangeGesture(); }
    void endGesture() override { endChangeGesture(); }

    float getValue() const override { return static_cast<float>((kept - least) / (greatest - least)); }
    void setValue(float wanted) override { kept = least + (greatest - least) * static_cast<double>(wanted); }
    float getDefaultValue() const override { return 0; }
    float getValueForText(const juce::String&) const override { return getValue(); }

private:
    double least, greatest, kept;
};

/// The parameter of a test's processor at this place.
inline KeptParameter& kept(const juce::AudioProcessor& processor, int index) {
    return dynamic_cast<KeptParameter&>(*processor.getParameters()[index]);
}

} // namespace headland::test
