// SPDX-License-Identifier: GPL-3.0-or-later
// The one table of settings: key, unit, range, default, what it does and why the default is what it is.
// `--set`, presets, JSON, help, parameters and tooltips all come from it. Constant data; any thread but the audio thread
// (text is allocated).
#pragma once

#include "Cut/CutSettings.h"

#include <cmath>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>

namespace headland::cut {

/// One setting of a plain struct of settings. `member` says where in it the value lives; an int member is a count, a
/// switch (0 to 1) or, for `format`, an index.
template <typename Settings>
struct SettingOf {
    std::string_view key;   ///< stable name: `--set`, preset files, JSON
    std::string_view label; ///< as shown to a person
    std::string_view unit;  ///< "" when it has none
    std::variant<double Settings::*, int Settings::*> member;
    double least;                                   ///< range, in `unit`, both ends allowed
    double greatest;                                ///< range, in `unit`
    std::string_view does;                          ///< what it does, one sentence
    std::string_view reason;                        ///< why the default is what it is, with its source
    std::span<const std::string_view> choices = {}; ///< words for 0, 1 … where they say more than the numbers

    bool isWhole() const noexcept { return std::holds_alternative<int Settings::*>(member); }
    /// Lines per inch mean something.
    bool isPitch() const noexcept { return key.find("pitch") != std::string_view::npos && unit == "µm"; }
};

using Setting = SettingOf<CutSettings>;

/// Value of a setting as a number (`format` as its index).
template <typename Settings>
double getNumber(const Settings& settings, const SettingOf<Settings>& setting) noexcept {
    return std::visit([&](auto member) { return static_cast<double>(settings.*member); }, setting.member);
}

/// Puts a number where the setting lives, rounded to a whole one for an int. Nothing is checked.
template <typename Settings>
void setNumber(Settings& settings, const SettingOf<Settings>& setting, double value) noexcept {
    if (const auto* real = std::get_if<double Settings::*>(&setting.member))
        settings.** real = value;
    else
        settings.*std::get<int Settings::*>(setting.member) = static_cast<int>(std::lround(value));
}

/// Every setting, in the order they are shown.
std::span<const Setting> settingsTable() noexcept;

/// The setting with this key, or nullptr.
const Setting* findSetting(std::string_view key) noexcept;

/// Value as text that setFromText() reads back to the same bits; `format` as its key.
std::string getText(const CutSettings& settings, const Setting& setting);

/// Sets one setting from text: a number with `.` as decimal point, in the setting's unit or one written behind it
/// ("250 lpi", Cut/UnitText.h), or a format's key.
/// Returns nothing when done, otherwise one sentence saying what is wrong and what would be right; `settings` is
/// then unchanged. Ranges are checked by validate(), all together, not here. Setting `format` also takes over
/// the format's speed, radii and preview.
std::optional<std::string> setFromText(CutSettings& settings, std::string_view key, std::string_view text);

} // namespace headland::cut
