// SPDX-License-Identifier: GPL-3.0-or-later
// The settings that `headland fit` can vary, in steps of a tenth of their unit, and the range of each in which the rest
// of the set-up holds. Values are counted in tenths, so that two of them are equal or are not. Constant data and plain
// functions; any thread but the audio thread.
#pragma once

#include "Cut/CutSettings.h"

#include <span>
#include <string>
#include <string_view>

namespace headland::console {

/// Tenths of a unit in the unit.
inline constexpr double perTenth = 10.0;

/// What `--vary` takes.
enum class Vary { level, land, depth };

/// One setting that can be varied.
struct FitQuantity {
    Vary vary;
    std::string_view name;        ///< as after --vary
    std::string_view key;         ///< of the setting
    std::string_view noun;        ///< "disc level"
    std::string_view superlative; ///< "highest", said of it
    std::string_view unit;        ///< "dB" or "µm"
    int firstStep_tenths;         ///< how far from the present value the search looks first
};

/// All of them, the one that is varied unless another is asked for first.
std::span<const FitQuantity> fitQuantities() noexcept;

/// Present value in tenths, rounded.
int tenthsOf(const cut::CutSettings& settings, const FitQuantity& quantity);

/// The settings with the quantity at this value; as exact as if it had been typed.
cut::CutSettings withTenths(cut::CutSettings settings, const FitQuantity& quantity, int tenths);

/// "-3.2 dB"
std::string valueText(const FitQuantity& quantity, int tenths);

/// Values that may be tried, both ends included; `whyNoMore` is what validate() says of a tenth more.
struct TenthRange {
    int least = 0;
    int greatest = -1;
    std::string whyNoMore;

    bool empty() const noexcept { return least > greatest; }
};

/// The values with which the set-up is valid: those of the settings table, less those at odds with other settings.
/// `settings` themselves must be valid. Empty when no whole tenth is.
TenthRange validTenths(const cut::CutSettings& settings, const FitQuantity& quantity, double sampleRate_hz);

} // namespace headland::console
