// SPDX-License-Identifier: GPL-3.0-or-later
#include "Disc/Format.h"

#include <algorithm>
#include <array>

namespace headland::disc {

namespace {

constexpr double rpm33 = 100.0 / 3.0;
constexpr double rpm45 = 45.0;
constexpr std::string_view iecOuter = "IEC 60098:1987, 8.5";
constexpr std::string_view iecFinishing = "IEC 60098:1987, 8.9";
constexpr std::string_view din = "DIN 45547:1981";
constexpr std::string_view riaa = "RIAA 1963, 4 3/4 in";
constexpr std::string_view jis = "JIS S8502-1973";

// nominalSide_s: common practice, no source.
constexpr std::array<Format, 5> table{{
    {"30cm-33", "30 cm, 33 1/3 rpm", rpm33, 300.0, 292.6, 115.0, 120.65, 106.4, 0.8, 20 * 60.0, iecOuter, din,
     riaa, iecFinishing},
    {"30cm-45", "30 cm, 45 rpm", rpm45, 300.0, 292.6, 115.0, 120.65, 106.4, 0.8, 12 * 60.0, iecOuter, din,
     riaa, iecFinishing},
    {"25cm-33", "25 cm, 33 1/3 rpm", rpm33, 250.0, 241.8, 115.2, 115.2, 106.4, 0.8, 13 * 60.0, iecOuter, jis,
     jis, iecFinishing},
    {"17cm-45", "17 cm, 45 rpm", rpm45, 175.0, 168.3, 106.0, 106.0, 97.4, 1.0, 4 * 60.0, iecOuter, jis, jis,
     iecFinishing},
    {"17cm-33", "17 cm, 33 1/3 rpm", rpm33, 175.0, 168.3, 106.0, 106.0, 97.4, 1.0, 6 * 60.0, iecOuter, jis,
     jis, iecFinishing},
}};

} // namespace

std::span<const Format> formats() noexcept {
    return table;
}

const Format* findFormat(std::string_view key) noexcept {
    const auto* found =
        std::find_if(table.begin(), table.end(), [key](const Format& f) { return f.key == key; });
    return found == table.end() ? nullptr : found;
}

} // namespace headland::disc
