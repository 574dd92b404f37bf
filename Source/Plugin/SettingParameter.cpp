// SPDX-License-Identifier: GPL-3.0-or-later
#include "Plugin/SettingParameter.h"

#include "Cut/UnitText.h"

#include <algorithm>
#include <cmath>

namespace headland::plugin {

void SettingParameter::setExactly(double wanted) noexcept {
    if (wanted == value())
        return;
    current.set(wanted);
    changes.count();
}

void SettingParameter::setExactlyNotifyingHost(double wanted) {
    setExactly(wanted);
    sendValueChangedMessageToListeners(getValue());
}

void SettingParameter::setValue(float wanted) {
    if (!std::isfinite(wanted) || wanted == getValue())
        return;
    setExactly(wanted == getDefaultValue() ? default_ : atNormalised(wanted));
}

float SettingParameter::normalised(double real) const noexcept {
    return static_cast<float>(std::clamp((real - least) / (greatest - least), 0.0, 1.0));
}

double SettingParameter::atNormalised(float wanted) const noexcept {
    return rounded(least + (greatest - least) * std::clamp(static_cast<double>(wanted), 0.0, 1.0));
}

/// To a power of ten that is a hundred-thousandth of the range or coarser.
double SettingParameter::rounded(double real) const noexcept {
    if (whole)
        return std::round(real);
    const auto perUnit = std::pow(10, 5 - std::ceil(std::log10(greatest - least)));
    return std::clamp(std::round(real * perUnit) / perUnit, least, greatest);
}

int SettingParameter::getNumSteps() const {
    return isDiscrete() ? static_cast<int>(greatest - least) + 1 : AudioProcessorParameter::getNumSteps();
}

/// The format by its key.
std::string SettingParameter::shown(double real) const {
    return isFormat() ? std::string(disc::formats()[static_cast<std::size_t>(real)].key)
                      : cut::textWithUnit(real, unit);
}

juce::String SettingParameter::getText(float normalisedValue, int lengthMax) const {
    const auto real = normalisedValue == getValue() ? value() : atNormalised(normalisedValue);
    const auto text = juce::String::fromUTF8(shown(real).c_str());
    return lengthMax > 0 ? text.substring(0, lengthMax) : text;
}

float SettingParameter::getValueForText(const juce::String& text) const {
    const auto utf8 = text.toStdString();
    if (isFormat()) {
        const auto* format = disc::findFormat(text.trim().toStdString());
        return format == nullptr ? getValue()
                                 : normalised(static_cast<double>(format - disc::formats().data()));
    }
    for (const auto known : {value(), default_})
        if (utf8 == shown(known)) // which has fewer figures than the value
            return normalised(known);
    const auto real = cut::valueFromText(utf8, unit, pitch);
    return real ? normalised(*real) : getValue();
}

} // namespace headland::plugin
