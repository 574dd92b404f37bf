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

inline constexpr std::uint32_t text = 0xfff3f5f6;
inline constexpr std::uint32_t quiet = 0xffb7c1c8;   ///< names and units
inline constexpr std::uint32_t fault = 0xffff9a6b;   ///< beside the word "Fault"
inline constexpr std::uint32_t caution = 0xfff0e442; ///< beside the word "Caution"
inline constexpr std::uint32_t good = 0xff7fd3ff;    ///< what is well, or in hand

inline constexpr std::array grounds{ground, panel, button};
inline constexpr std::array texts{text, quiet, fault, caution, good};

} // namespace headland::editor::palette
