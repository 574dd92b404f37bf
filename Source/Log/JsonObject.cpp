// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/JsonObject.h"

#include "Cut/SettingsTable.h"

#include <cmath>
#include <variant>

namespace headland::log {

namespace {

juce::String toJuce(std::string_view text) {
    return juce::String::fromUTF8(text.data(), static_cast<int>(text.size()));
}

} // namespace

JsonObject& JsonObject::add(std::string_view name, const juce::var& value) {
    object->setProperty(toJuce(name), value);
    return *this;
}

JsonObject& JsonObject::number(std::string_view name, double value) {
    return add(name, juce::var(value));
}

JsonObject& JsonObject::count(std::string_view name, std::int64_t value) {
    return add(name, juce::var(static_cast<juce::int64>(value)));
}

JsonObject& JsonObject::text(std::string_view name, std::string_view value) {
    return add(name, juce::var(toJuce(value)));
}

JsonObject& JsonObject::truth(std::string_view name, bool value) {
    return add(name, juce::var(value));
}

juce::var programObject(const files::ProgramFacts& program) {
    return JsonObject()
        .text("file_name", program.fileName)
        .text("format", program.format)
        .number("sample_rate_hz", program.sampleRate_hz)
        .count("channels", program.channels)
        .count("length_frames", program.length_frames)
        .number("length_s", program.length_s);
}

juce::var settingsObject(const cut::CutSettings& settings) {
    JsonObject object;
    for (const auto& setting : cut::settingsTable()) {
        if (setting.key == "format")
            object.text(setting.key, cut::getText(settings, setting));
        else if (std::holds_alternative<int cut::CutSettings::*>(setting.member))
            object.count(setting.key, static_cast<std::int64_t>(cut::getNumber(settings, setting)));
        else
            object.number(setting.key, cut::getNumber(settings, setting));
    }
    return object;
}

juce::var extremeObject(const cut::Extreme& extreme, std::string_view name) {
    if (!extreme.valid || !std::isfinite(extreme.value))
        return {};
    return JsonObject()
        .number(name, extreme.value)
        .number("time_s", extreme.time_s)
        .number("diameter_mm", 2 * extreme.radius_mm);
}

} // namespace headland::log
