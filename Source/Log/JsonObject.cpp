// SPDX-License-Identifier: GPL-3.0-or-later
#include "Log/JsonObject.h"

#include "Cut/SettingsTable.h"

#include <cmath>
#include <utility>
#include <variant>

namespace headland::log {

JsonObject& JsonObject::add(std::string_view name, files::Json value) {
    object[std::string(name)] = std::move(value);
    return *this;
}

files::Json programObject(const files::ProgramFacts& program) {
    return JsonObject()
        .text("file_name", program.fileName)
        .text("format", program.format)
        .number("sample_rate_hz", program.sampleRate_hz)
        .count("channels", program.channels)
        .count("length_frames", program.length_frames)
        .number("length_s", program.length_s);
}

files::Json settingsObject(const cut::CutSettings& settings) {
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

files::Json extremeObject(const cut::Extreme& extreme, std::string_view name) {
    if (!extreme.valid || !std::isfinite(extreme.value))
        return {};
    return JsonObject()
        .number(name, extreme.value)
        .number("time_s", extreme.time_s)
        .number("diameter_mm", 2 * extreme.radius_mm);
}

} // namespace headland::log
