// SPDX-License-Identifier: GPL-3.0-or-later
// Hears of one parameter what a host hears: values, and gestures begun and ended.
#pragma once

#include <juce_audio_processors/juce_audio_processors.h>

namespace headland::test {

class HostEar final : public juce::AudioProcessorParameter::Listener {
public:
    explicit HostEar(juce::AudioProcessorParameter& p) : parameter(p) { parameter.addListener(this); }
    ~HostEar() override { parameter.removeListener(this); }

    int values = 0, begun = 0, ended = 0;

    void parameterValueChanged(int, float) override { ++values; }
    void parameterGestureChanged(int, bool starts) override { ++(starts ? begun : ended); }

private:
    juce::AudioProcessorParameter& parameter;
};

} // namespace headland::test
