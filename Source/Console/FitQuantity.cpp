// SPDX-License-Identifier: GPL-3.0-or-later
#include "Console/FitQuantity.h"

#include "Cut/SettingsTable.h"
#include "Text/Figures.h"

#include <array>
#include <cmath>

namespace headland::console {

using text::fixed;

namespace {

// Common practice, no source: few sides are off by more than 3 dB or 5 µm at the first attempt.
constexpr std::array quantities{
    FitQuantity{Vary::level, "level", "disc_level_db", "disc level", "highest", "dB", 30},
    FitQuantity{Vary::land, "land", "land_min_um", "land", "greatest", "µm", 50},
    FitQuantity{Vary::depth, "depth", "depth_basic_um", "basic depth", "greatest", "µm", 50},
};

double cut::CutSettings::*memberOf(const FitQuantity& quantity) {
    return std::get<double cut::CutSettings::*>(cut::findSetting(quantity.key)->member);
}

} // namespace

std::span<const FitQuantity> fitQuantities() noexcept {
    return quantities;
}

int tenthsOf(const cut::CutSettings& settings, const FitQuantity& quantity) {
    return static_cast<int>(std::lround(settings.*memberOf(quantity) * perTenth));
}

cut::CutSettings withTenths(cut::CutSettings settings, const FitQuantity& quantity, int tenths) {
    settings.*memberOf(quantity) = tenths / perTenth;
    return settings;
}

std::string valueText(const FitQuantity& quantity, int tenths) {
    return fixed(tenths / perTenth, 1) + " " + std::string(quantity.unit);
}

TenthRange validTenths(const cut::CutSettings& settings, const FitQuantity& quantity, double sampleRate_hz) {
    const auto problems = [&](int tenths) {
        return cut::validate(withTenths(settings, quantity, tenths), sampleRate_hz);
    };
    const auto& setting = *cut::findSetting(quantity.key);
    TenthRange range{static_cast<int>(std::ceil(setting.least * perTenth)),
                     static_cast<int>(std::floor(setting.greatest * perTenth)), ""};
    while (!range.empty() && !problems(range.least).empty())
        ++range.least;
    while (!range.empty() && !problems(range.greatest).empty())
        --range.greatest;
    if (!range.empty())
        range.whyNoMore = problems(range.greatest + 1).front();
    return range;
}

} // namespace headland::console
