// SPDX-License-Identifier: GPL-3.0-or-later
// Building blocks of JSON reports: an object whose members keep their order, and the objects that every
// report holds. UTF-8. One thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"
#include "Files/ProgramFacts.h"

#include <juce_core/juce_core.h>

#include <cstdint>
#include <string_view>

namespace headland::log {

/// An object of JSON.
class JsonObject {
public:
    JsonObject& add(std::string_view name, const juce::var& value);
    /// NaN and infinity have no place in JSON; JUCE writes null for them.
    JsonObject& number(std::string_view name, double value);
    JsonObject& count(std::string_view name, std::int64_t value);
    JsonObject& text(std::string_view name, std::string_view value);
    JsonObject& truth(std::string_view name, bool value);

    operator juce::var() const { return juce::var(object.get()); }

private:
    juce::DynamicObject::Ptr object = new juce::DynamicObject;
};

/// File name, format, rate, channels, length.
juce::var programObject(const files::ProgramFacts& program);

/// Every setting by its key.
juce::var settingsObject(const cut::CutSettings& settings);

/// An extreme under this name, with its place; null when there is none.
juce::var extremeObject(const cut::Extreme& extreme, std::string_view name);

} // namespace headland::log
