// SPDX-License-Identifier: GPL-3.0-or-later
// The one table of settings: key, unit, range, default, what it does and why the default is what it is.
// `--set`, presets, JSON, help (and later parameters and tooltips) all come from it. Constant data; any thread
// but the audio thread (text is allocated).
#pragma once

#include "Cut/CutSettings.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

namespace headland::cut {

/// One setting. `member` says where in CutSettings it lives; an int member other than `format` is a count.
struct Setting {
    std::string_view key;   ///< stable name: `--set`, preset files, JSON
    std::string_view label; ///< as shown to a person
    std::string_view unit;  ///< "" when it has none
    std::variant<double CutSettings::*, int CutSettings::*> member;
    double least;            ///< range, in `unit`, both ends allowed
    double greatest;         ///< range, in `unit`
    std::string_view does;   ///< what it does, one sentence
    std::string_view reason; ///< why the default is what it is, with its source
};

/// Every setting, in the order they are shown.
std::span<const Setting> settingsTable() noexcept;

/// The setting with this key, or nullptr.
const Setting* findSetting(std::string_view key) noexcept;

/// Value of a setting as a number (`format` as its index).
double getNumber(const CutSettings& settings, const Setting& setting) noexcept;

/// Value as text that setFromText() reads back to the same bits; `format` as its key.
std::string getText(const CutSettings& settings, const Setting& setting);

/// Sets one setting from text: a plain number in the setting's unit, with `.` as decimal point, or a format's key.
/// Returns nothing when done, otherwise one sentence saying what is wrong and what would be right; `settings` is
/// then unchanged. Ranges are checked by validate(), all together, not here. Setting `format` also takes over
/// the format's speed, radii and preview.
std::optional<std::string> setFromText(CutSettings& settings, std::string_view key, std::string_view text);

} // namespace headland::cut
