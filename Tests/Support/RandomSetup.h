// SPDX-License-Identifier: GPL-3.0-or-later
// Any valid set-up: every setting drawn from its range in the settings table, the whole kept when validate() has
// nothing against it. Where the numbers come from is the caller's: a generator, or the bytes of a fuzzer.
#pragma once

#include "Cut/CutSettings.h"
#include "Cut/SettingsTable.h"
#include "Disc/Format.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>
#include <string>

namespace headland::test {

namespace setup_detail {

/// `unit` 0 … 1 spread over a setting's range: by ratio where the range spans more than a decade, evenly otherwise. A
/// range that begins at 0 keeps a fifth of its draws there.
inline double spread(const cut::Setting& setting, double unit) {
    constexpr double zeroShare = 0.2, wideRatio = 10;
    auto least = setting.least;
    if (least == 0 && !setting.isWhole()) {
        if (unit < zeroShare)
            return 0;
        unit = (unit - zeroShare) / (1 - zeroShare);
        least = setting.greatest / 1000;
    }
    if (least > 0 && setting.greatest / least > wideRatio)
        return std::clamp(least * std::pow(setting.greatest / least, unit), setting.least, setting.greatest);
    return least + (setting.greatest - least) * unit;
}

} // namespace setup_detail

/// One draw, valid or not, from a source of numbers 0 ≤ x < 1 (`next()`). A third of the settings keep their default, so
/// that most draws differ from an ordinary set-up in some ways only; a tenth lie on one end of their range.
template <typename Next>
cut::CutSettings drawSetup(Next next) {
    cut::CutSettings settings;
    settings.applyFormat(std::min(static_cast<int>(next() * static_cast<double>(disc::formats().size())),
                                  static_cast<int>(disc::formats().size()) - 1));
    constexpr double defaultShare = 0.35, leastShare = 0.05, greatestShare = 0.05;
    for (const auto& setting : cut::settingsTable()) {
        if (setting.key == "format")
            continue;
        const auto kind = next();
        const auto value = next();
        if (kind < defaultShare)
            continue;
        cut::setNumber(settings, setting,
                       kind < defaultShare + leastShare ? setting.least
                       : kind < defaultShare + leastShare + greatestShare
                           ? setting.greatest
                           : setup_detail::spread(setting, value));
    }
    return settings;
}

/// The draw made to fit the disc and itself where that takes no more than exchanging or clamping values; nothing when
/// it is not valid all the same.
inline std::optional<cut::CutSettings> madeValid(cut::CutSettings s, double sampleRate_hz) {
    const auto& format = s.discFormat();
    s.start_radius_mm = std::min(s.start_radius_mm, format.modulatedDiameterMax_mm / 2);
    s.end_radius_mm = std::max(s.end_radius_mm, format.modulatedDiameterMin_mm / 2);
    if (s.finishing_radius_mm >= s.end_radius_mm)
        s.finishing_radius_mm = format.finishingDiameter_mm / 2;
    if (s.depth_basic_um > s.depth_max_um)
        std::swap(s.depth_basic_um, s.depth_max_um);
    s.width_min_um = std::min(s.width_min_um, 2 * s.depth_basic_um);
    if (s.pitch_min_um > s.pitch_max_um)
        std::swap(s.pitch_min_um, s.pitch_max_um);
    s.pitch_max_um = std::max(s.pitch_max_um, 2 * s.depth_basic_um + s.land_min_um);
    if (!cut::validate(s, sampleRate_hz).empty())
        return std::nullopt;
    return s;
}

/// The first valid set-up of as many draws as it takes.
template <typename Next>
cut::CutSettings randomSetup(Next next, double sampleRate_hz) {
    for (;;)
        if (const auto valid = madeValid(drawSetup(next), sampleRate_hz))
            return *valid;
}

/// As `--set` options, for a person who wants to see it cut; only what differs from an ordinary set-up.
inline std::string asOptions(const cut::CutSettings& settings) {
    const cut::CutSettings ordinary;
    std::string text;
    for (const auto& setting : cut::settingsTable())
        if (cut::getNumber(settings, setting) != cut::getNumber(ordinary, setting)
            || setting.key == "preview_s")
            text += (text.empty() ? "--set " : " --set ") + std::string(setting.key) + "="
                    + cut::getText(settings, setting);
    return text;
}

} // namespace headland::test
