// SPDX-License-Identifier: GPL-3.0-or-later
// Colours of the windows, for a dark room: 0xAARRGGBB. Every text stands out from every ground by 4.5 to 1 at least
// (WCAG 2.1, 1.4.3; the figure from memory); a test reckons it. What a colour says is said in words as well.
#pragma once

#include <array>
#include <cstdint>

namespace headland::editor::palette {

inline constexpr std::uint32_t ground = 0xff101417;
inline constexpr std::uint32_t panel = 0xff1b2126;
inline constexpr std::uint32_t button = 0xff2b343b;
inline constexpr std::uint32_t line = 0xff5f6d77; ///< no text

// Areas of the pictures; no text on them.
inline constexpr std::uint32_t heard = 0xff182530;     ///< ground of what lies ahead
inline constexpr std::uint32_t demand = 0xff9c7a2e;    ///< spacing demanded
inline constexpr std::uint32_t rehearsed = 0xff6b5b33; ///< demanded in a rehearsal
inline constexpr std::uint32_t spare = 0xff3a6f8f;     ///< spacing left over

inline constexpr std::uint32_t text = 0xfff3f5f6;
inline constexpr std::uint32_t quiet = 0xffb7c1c8;   ///< names and units
inline constexpr std::uint32_t fault = 0xffff9a6b;   ///< beside the words "Fault" and "Scrap"
inline constexpr std::uint32_t caution = 0xfff0e442; ///< beside the word "Caution"
inline constexpr std::uint32_t good = 0xff7fd3ff;    ///< what is well, or in hand

// Shapes: each stands out from what it lies on or against by 3 to 1 at least (WCAG 2.1, 1.4.11; from memory). Groove and
// disc are in shades of one hue, which every eye tells apart; what is to be heeded has the colours above.
inline constexpr std::uint32_t land = 0xff0b0f12; ///< and the uncut disc
inline constexpr std::uint32_t wallDark = 0xff5b6b76;
inline constexpr std::uint32_t wallLit = 0xffb8cad4;
inline constexpr std::uint32_t bottom = 0xff050708; ///< of a groove; hatching; around lines that cross walls
inline constexpr std::uint32_t turnsClose = 0xff4a7188;
inline constexpr std::uint32_t turnsWide = 0xffc3e2f2;
inline constexpr std::uint32_t paper = 0xff2b343b; ///< the disc's label

struct ShapePair {
    std::uint32_t shape, against;
};
inline constexpr std::array shapePairs{
    ShapePair{wallDark, land},    ShapePair{wallLit, land},   ShapePair{wallLit, wallDark},
    ShapePair{bottom, wallDark},  ShapePair{bottom, wallLit}, ShapePair{fault, bottom},
    ShapePair{caution, bottom},   ShapePair{text, bottom},    ShapePair{good, bottom},
    ShapePair{turnsClose, land},  ShapePair{turnsWide, land}, ShapePair{turnsWide, turnsClose},
    ShapePair{demand, ground},    ShapePair{demand, heard},   ShapePair{spare, ground},
    ShapePair{good, spare},       ShapePair{text, demand},    ShapePair{line, land},
    ShapePair{line, panel},       ShapePair{text, paper},     ShapePair{bottom, turnsClose},
    ShapePair{bottom, turnsWide}, ShapePair{quiet, land},     ShapePair{quiet, panel},
};

inline constexpr std::array grounds{ground, panel, button, land, paper};
inline constexpr std::array texts{text, quiet, fault, caution, good};

} // namespace headland::editor::palette
