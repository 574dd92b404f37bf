// SPDX-License-Identifier: GPL-3.0-or-later
#include "Cut/UnitText.h"

#include "Text/Number.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace headland::cut {

namespace {

constexpr double um_per_in = 25400; ///< exact, by the definition of the inch

/// One spelling of a unit; values in it times `factor` are in the unit `of` the settings table.
struct Unit {
    std::string_view spelling;
    std::string_view of;
    double factor;
    bool reciprocal = false; ///< lines to a length: `factor` divided by the value, for a pitch only
};

constexpr Unit units[] = {
    {"µm", "µm", 1},
    {"um", "µm", 1},
    {"mm", "µm", 1000},
    {"mil", "µm", um_per_in / 1000},
    {"in", "µm", um_per_in},
    {"lpi", "µm", um_per_in, true},
    {"lpcm", "µm", 10000, true},
    {"mm", "mm", 1},
    {"cm", "mm", 10},
    {"µm", "mm", 0.001},
    {"in", "mm", um_per_in / 1000},
    {"s", "s", 1},
    {"ms", "s", 0.001},
    {"min", "s", 60},
    {"rpm", "rpm", 1},
    {"%", "%", 1},
    {"cm/s", "cm/s", 1},
    {"mm/s", "cm/s", 0.1},
    {"m/s", "cm/s", 100},
    {"in/s", "cm/s", um_per_in / 10000},
    {"dB", "dB", 1},
    {"dBFS", "dBFS", 1},
    {"Hz", "Hz", 1},
    {"kHz", "Hz", 1000},
    {"deg", "deg", 1},
    {"°", "deg", 1},
    {"µm/s", "µm/s", 1},
    {"um/s", "µm/s", 1},
    {"mm/s", "µm/s", 1000},
    {"mil/s", "µm/s", um_per_in / 1000},
    {"in/s", "µm/s", um_per_in},
    {"µm/rev/s", "µm/rev/s", 1},
    {"um/rev/s", "µm/rev/s", 1},
    {"mil/rev/s", "µm/rev/s", um_per_in / 1000},
    {"in/rev/s", "µm/rev/s", um_per_in},
    {"turns", "turns", 1},
    {"turn", "turns", 1},
};

bool serves(const Unit& unit, std::string_view of, bool isPitch) noexcept {
    return unit.of == of && (isPitch || !unit.reciprocal);
}

std::string_view trimmed(std::string_view text) noexcept {
    const auto first = text.find_first_not_of(' ');
    if (first == std::string_view::npos)
        return {};
    return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

} // namespace

std::optional<double> valueFromText(std::string_view text, std::string_view unit, bool isPitch) {
    text = trimmed(text);
    const auto read = text::leadingNumber(text);
    if (!read)
        return std::nullopt;
    const auto number = read->value;
    const auto spelling = trimmed(read->rest);
    if (spelling.empty())
        return number;
    const auto* found = std::find_if(std::begin(units), std::end(units), [&](const Unit& u) {
        return u.spelling == spelling && serves(u, unit, isPitch);
    });
    if (found == std::end(units))
        return std::nullopt;
    const auto value = found->reciprocal ? found->factor / number : found->factor * number;
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

std::string textWithUnit(double value, std::string_view unit) {
    constexpr int digits = 5;
    std::array<char, 40> text{};
    const auto [end, error] =
        std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::general, digits);
    return std::string(text.data(), end) + (unit.empty() ? "" : " " + std::string(unit));
}

std::string readableUnits(std::string_view unit, bool isPitch) {
    std::string all;
    for (const auto& u : units)
        if (serves(u, unit, isPitch))
            all += (all.empty() ? "" : ", ") + std::string(u.spelling);
    return all;
}

} // namespace headland::cut
