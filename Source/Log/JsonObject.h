// SPDX-License-Identifier: GPL-3.0-or-later
// Building blocks of JSON reports: an object whose members keep their order, and the objects that every
// report holds. UTF-8. One thread.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/CutSummary.h"
#include "Files/Json.h"
#include "Files/ProgramFacts.h"

#include <cstdint>
#include <string_view>

namespace headland::log {

/// An object of JSON.
class JsonObject {
public:
    JsonObject& add(std::string_view name, files::Json value);
    /// NaN and infinity have no place in JSON: they are written as null.
    JsonObject& number(std::string_view name, double value) { return add(name, value); }
    JsonObject& count(std::string_view name, std::int64_t value) { return add(name, value); }
    JsonObject& text(std::string_view name, std::string_view value) { return add(name, value); }
    JsonObject& truth(std::string_view name, bool value) { return add(name, value); }

    operator const files::Json&() const noexcept { return object; }

private:
    files::Json object = files::Json::object();
};

/// File name, format, rate, channels, length.
files::Json programObject(const files::ProgramFacts& program);

/// Every setting by its key.
files::Json settingsObject(const cut::CutSettings& settings);

/// An extreme under this name, with its place; null when there is none.
files::Json extremeObject(const cut::Extreme& extreme, std::string_view name);

} // namespace headland::log
